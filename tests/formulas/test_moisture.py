"""The formulas about moisture: reference libraries, published values, and their laws."""

from __future__ import annotations

import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from build_tools.formulas.moisture.dew_point import dew_point, full_at_c, saturation_pressure_pa


def test_dew_point_agrees_with_reference_libraries() -> None:
    """Within 0.03 K: the formula of ISO 13788 is simpler than theirs (ASHRAE; IAPWS with the air's own effect).

    The most they were found apart on this grid is 0.023 K, at 0 °C and 30 %, with frost points.
    """
    # Here, since loading it takes three seconds: every process that runs tests reads all their files.
    from CoolProp.HumidAirProp import HAPropsSI

    psychrolib.SetUnitSystem(psychrolib.SI)
    for temperature_c in range(31):
        for percent in range(30, 96, 5):
            found = full_at_c(saturation_pressure_pa(temperature_c) * percent / 100)
            ashrae = psychrolib.GetTDewPointFromRelHum(temperature_c, percent / 100)
            iapws = HAPropsSI("D", "T", 273.15 + temperature_c, "R", percent / 100, "P", 101325) - 273.15
            assert found == pytest.approx(ashrae, abs=0.03)
            assert found == pytest.approx(iapws, abs=0.03)
            shown = dew_point(temperature_c, percent, 60).outputs["dew_point_c"]
            assert -1e-9 <= shown - found <= 0.01


@pytest.mark.parametrize(("temperature_c", "published_pa"), [(20, 2337), (0, 611), (-5, 401)])
def test_saturation_pressure_is_the_published_one(temperature_c: float, published_pa: float) -> None:
    """DIN 4108-3, Table C.1 (reported): whole pascals, so within one."""
    assert saturation_pressure_pa(temperature_c) == pytest.approx(published_pa, abs=1)


@given(st.floats(-20, 50), st.floats(5, 100), st.floats(-20, 60), st.floats(-20, 60))
def test_warmer_surface_is_never_wetter(air_c: float, percent: float, one: float, other: float) -> None:
    order = ["wets", "mould-risk", "dry"]
    cold, warm = sorted((one, other))
    colder, warmer = (dew_point(air_c, percent, surface) for surface in (cold, warm))
    assert order.index(colder.verdict) <= order.index(warmer.verdict)
    assert colder.outputs["surface_humidity_percent"] >= warmer.outputs["surface_humidity_percent"]


@given(st.floats(-20, 50), st.floats(5, 100), st.floats(5, 100), st.floats(-20, 60))
def test_damper_air_is_never_drier_on_a_surface(air_c: float, one: float, other: float, surface_c: float) -> None:
    order = ["dry", "mould-risk", "wets"]
    dry, damp = sorted((one, other))
    verdicts = [dew_point(air_c, percent, surface_c).verdict for percent in (dry, damp)]
    assert order.index(verdicts[0]) <= order.index(verdicts[1])


@given(st.floats(-20, 50))
def test_full_air_has_its_own_temperature_for_dew_point(air_c: float) -> None:
    assert full_at_c(saturation_pressure_pa(air_c)) == pytest.approx(air_c, abs=1e-9)
    assert dew_point(air_c, 100, air_c).verdict == "wets"


@given(st.floats(-20, 50), st.floats(5, 100))
def test_dew_point_is_never_above_the_air(air_c: float, percent: float) -> None:
    assert dew_point(air_c, percent, 20).outputs["dew_point_c"] <= air_c + 0.01 + 1e-9


def test_rule_by_hand_for_mould_holds_over_its_table() -> None:
    """The surface with 80 % lies about three and a half degrees above the dew point all over the table."""
    for air_c in (14, 16, 18, 20, 22, 24):
        for percent in (40, 50, 60, 70, 80):
            held_pa = saturation_pressure_pa(air_c) * percent / 100
            assert full_at_c(held_pa / 0.8) - full_at_c(held_pa) == pytest.approx(3.5, abs=0.5)
