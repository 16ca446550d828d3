"""Numbers as they are rounded, written and read."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from build_tools.formulas.numbers import figure, quantity, read_number, round_down, round_nearest, round_up


@pytest.mark.parametrize(
    ("value", "step", "up", "down"),
    [
        (75 / math.sin(math.radians(30)), 5, 150, 150),
        (150.0001, 5, 155, 150),
        (17.5, 0.1, 17.5, 17.5),
        (17.46, 0.1, 17.5, 17.4),
        (-0.25, 0.1, -0.2, -0.3),
        (0.1 + 0.2, 0.1, 0.3, 0.3),
        (0, 5, 0, 0),
    ],
)
def test_rounding(value: float, step: float, up: float, down: float) -> None:
    assert (round_up(value, step), round_down(value, step)) == (up, down)


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [
        (0, 2, "0"),
        (-0.001, 2, "0"),
        (2.5, 0, "3"),
        (0.125, 2, "0.13"),
        (1.005, 2, "1.01"),
        (9.999, 2, "10"),
        (10.05, 2, "10.05"),
        (-9.5, 1, "−9.5"),
        (1200, 1, "1200"),
    ],
)
def test_figure(value: float, decimals: int, text: str) -> None:
    assert figure(value, decimals) == text


@given(st.floats(-1e6, 1e6), st.integers(0, 6))
def test_figure_is_within_half_of_its_last_digit(value: float, decimals: int) -> None:
    written = float(figure(value, decimals).replace("−", "-"))
    assert written == pytest.approx(value, abs=0.5 * 10**-decimals + 1e-11 * abs(value), rel=0)


def test_quantity_sets_degrees_and_percent_close() -> None:
    assert [quantity(65, "%"), quantity(17.5, "°"), quantity(20, "°C"), quantity(200, "mm")] == [
        "65%",
        "17.5°",
        "20 °C",
        "200 mm",
    ]


@given(st.decimals(-100000, 100000, places=6))
def test_a_written_number_is_read_as_python_reads_it(value: Decimal) -> None:
    text = f"{value:f}"
    assert read_number(text).value == float(text)
    assert read_number(f"  {text.replace('-', '−')} ").value == float(text)


@pytest.mark.parametrize("text", ["abc", "1e3", "1.2.3", "1 500", "5-", "--5", "-", ".", "0x10", "nan", "²", "٣"])
def test_what_is_no_number_is_not_read(text: str) -> None:
    assert read_number(text).problem == "no-number"


@pytest.mark.parametrize(("text", "value"), [("17,5", 17.5), (".5", 0.5), ("5.", 5), ("0,125", 0.125), ("1,25", 1.25)])
def test_point_and_comma_both_part_decimals(text: str, value: float) -> None:
    assert read_number(text).value == value


@pytest.mark.parametrize(
    ("value", "step", "nearest"), [(2.4, 1, 2), (2.5, 1, 3), (7.5, 5, 10), (7.4, 5, 5), (0.15, 0.1, 0.2), (-2.6, 1, -3)]
)
def test_rounding_to_the_nearest(value: float, step: float, nearest: float) -> None:
    assert round_nearest(value, step) == nearest
