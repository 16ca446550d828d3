"""The JavaScript printed from the formulas, against the Python, in a browser: the same to the last printed letter.

Numbers agree within a relative 1e-9, since sines and exponentials may differ in their last digit between the
two; verdicts, rounded outputs, working lines and drawings are the same, at every edge too.
"""

from __future__ import annotations

import importlib.util
import linecache
import math
import random
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser, Page
from test_published import CASES

from build_tools.formulas import FORMULAS, Formula, validate
from build_tools.formulas.definition import Choice, choice
from build_tools.formulas.moisture import full_at_c, saturation_pressure_pa
from build_tools.formulas.validation import check_text
from build_tools.javascript import program
from build_tools.javascript.functions import print_function
from build_tools.javascript.values import value_text

Values = tuple[float | None, ...]

RUN = """([name, rows]) => rows.map((row) => {
  const formula = reckoning.formulas[name];
  const found = formula.reckon(...row);
  return {...found, drawn: formula.draw ? formula.draw(...row, found.outputs) : ""};
})"""


OTHER_ENGINE = """(factor) => {
  for (const name of ["sin", "cos", "tan", "asin", "acos", "atan", "atan2", "exp", "log", "log10", "pow"]) {
    const exact = Math[name];
    Math[name] = (...given) => exact(...given) * factor;
  }
}"""


@pytest.fixture(scope="module", params=[1 + 2**-52, 1 - 2**-52], ids=["a-digit-more", "a-digit-less"])
def other_engine(chromium: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    """A browser whose sines and exponentials end in another digit, as the language allows."""
    empty = chromium.new_page()
    empty.evaluate(OTHER_ENGINE, request.param)
    empty.add_script_tag(content=program(FORMULAS))
    yield empty
    empty.close()


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
    """An empty page with the printed program in it."""
    empty = chromium.new_page()
    empty.add_script_tag(content=program(FORMULAS))
    yield empty
    empty.close()


def assert_same(page: Page, formula: Formula, rows: list[Values]) -> None:
    """Run both on the same inputs and compare all that they give."""
    printed = page.evaluate(RUN, [formula.id, rows])
    for row, found in zip(rows, printed, strict=True):
        python = formula.function(*row)
        where = f"{formula.id}{row}"
        assert found["verdict"] == python.verdict, where
        assert found["working"] == list(python.working), where
        assert list(found["outputs"]) == list(python.outputs), where
        for name, value in python.outputs.items():
            assert _close(found["outputs"][name], value), where
        if formula.draw:
            assert found["drawn"] == formula.draw(*row, python.outputs), where


def _close(found: float | None, wanted: float | None) -> bool:
    if found is None or wanted is None:
        return found is wanted
    return math.isclose(found, wanted, rel_tol=1e-9, abs_tol=1e-12)


def seeded_rows(formula: Formula, count: int) -> list[Values]:
    """Make inputs all over their ranges, as finely or as roughly as people write them; the same on every run."""
    chance = random.Random(formula.id)

    def value(low: float, high: float, optional: bool) -> float | None:
        if optional and chance.random() < 0.2:
            return None
        exact = chance.uniform(low, high)
        return min(high, max(low, round(exact, chance.choice((0, 1, 2, 3, 15)))))

    return [tuple(value(each.low, each.high, each.optional) for each in formula.inputs) for _ in range(count)]


@pytest.mark.parametrize("name", FORMULAS)
def test_ten_thousand_seeded_inputs_give_the_same(page: Page, name: str) -> None:
    assert_same(page, FORMULAS[name], seeded_rows(FORMULAS[name], 10_000))


NUDGES = (0.0, 1e-15, -1e-15, 1e-12, -1e-12, 1e-7, -1e-7, 1e-3, -1e-3)
nudge = st.sampled_from(NUDGES)


@st.composite
def near_an_edge_of_sheet_lap(draw: st.DrawFn) -> Values:
    """A pitch where the lap crosses a rounding step or a limit, and a measured lap that all but fits."""
    step = draw(st.integers(30, 79))
    edge = draw(st.sampled_from((math.degrees(math.asin(75 / (5 * step))), 11.0, 30.0, 90.0)))
    pitch_deg = min(90.0, edge * (1 + draw(nudge)))
    return pitch_deg, draw(st.none() | st.just(5 * step * (1 + draw(nudge))))


@st.composite
def near_an_edge_of_pitch(draw: st.DrawFn) -> Values:
    """A pitch on a rounding step, by angle, by per cent or by length, with a least pitch there or two degrees off."""
    tenths = draw(st.integers(0, 600))
    run_mm = float(draw(st.sampled_from((100, 400, 1000, 1234, 20000))))
    by_angle = run_mm * math.tan(math.radians(tenths / 10))
    rise_mm = draw(st.sampled_from((by_angle, run_mm * tenths / 1000, run_mm * 3 / 4)))
    least = tenths / 10 - draw(st.sampled_from((0, 2, 2.1)))
    least_deg = min(60.0, max(0.0, least * (1 + draw(nudge))))
    return min(20000.0, rise_mm * (1 + draw(nudge))), run_mm, draw(st.none() | st.just(least_deg))


@st.composite
def near_an_edge_of_dew_point(draw: st.DrawFn) -> Values:
    """Air whose dew point is on a rounding step or at nought, and a surface at the dew point or at the mould limit."""
    dew_c = draw(st.integers(-1000, 4000)) / 100
    above = draw(st.sampled_from((0.0, 1.0, 5.0, 15.0)))
    air_c = min(50.0, max(-20.0, dew_c + above))
    percent = 100 * saturation_pressure_pa(dew_c) / saturation_pressure_pa(air_c)
    held_pa = saturation_pressure_pa(air_c) * percent / 100
    edge = draw(st.sampled_from((dew_c, full_at_c(held_pa / 0.8), 0.0, air_c)))
    surface_c = min(60.0, max(-20.0, edge * (1 + draw(nudge))))
    return air_c, min(100.0, max(5.0, percent * (1 + draw(nudge)))), surface_c


EDGES: dict[str, Callable[[], st.SearchStrategy[Values]]] = {
    "pitch": near_an_edge_of_pitch,
    "sheet-lap": near_an_edge_of_sheet_lap,
    "dew-point": near_an_edge_of_dew_point,
}


def test_every_formula_has_its_edges() -> None:
    assert set(EDGES) == set(FORMULAS)


@pytest.mark.parametrize("name", EDGES)
@given(data=st.data())
@settings(max_examples=40)
def test_inputs_near_every_edge_give_the_same(page: Page, name: str, data: st.DataObject) -> None:
    assert_same(page, FORMULAS[name], data.draw(st.lists(EDGES[name](), min_size=50, max_size=50)))


@pytest.mark.parametrize("name", EDGES)
@given(data=st.data())
@settings(max_examples=40)
def test_another_last_digit_changes_nothing(other_engine: Page, name: str, data: st.DataObject) -> None:
    assert_same(other_engine, FORMULAS[name], data.draw(st.lists(EDGES[name](), min_size=50, max_size=50)))


@pytest.mark.parametrize(("name", "case"), CASES)
def test_published_value_in_javascript(page: Page, name: str, case: dict[str, Any]) -> None:
    values = validate(FORMULAS[name], case["given"]).values
    (found,) = page.evaluate(RUN, [name, [list(values.values())]])
    tolerance = case["tolerance"] + 1e-9
    assert found["outputs"][case["output"]] == pytest.approx(case["published"], rel=0, abs=tolerance), case["why"]


CHECK = "([spec, texts]) => texts.map((text) => reckoning.check_text(spec, text))"
TYPED = (
    *("", " ", "0", "-0", "−3", "22", " 22 ", "17,5", "17.5", ".5", "5.", "1,500", "0,125", "1e3", "22°", "abc", "½"),
    *(
        "٣",
        "1 500",
        "--5",
        "5-",
        "-",
        ".",
        ",",
        "1.2.3",
        "NaN",
        "Infinity",
        "0x10",
        "\ufeff5",
        "\u00a05\t",
        "\x1c5",
        "😀",
    ),
    *("9" * 400, "0." + "1" * 40, "123456789012345678.9", "90", "90.0000001", "89.99999999999999", "2000", "2000.001"),
)


@pytest.mark.parametrize("name", FORMULAS)
@given(texts=st.lists(st.text(st.sampled_from("0123456789.,-− a°")) | st.text(), min_size=100, max_size=100))
@settings(max_examples=10)
def test_what_is_typed_is_taken_in_the_same(page: Page, name: str, texts: list[str]) -> None:
    for spec in FORMULAS[name].inputs:
        printed = page.evaluate(CHECK, [_as_object(spec), [*TYPED, *texts]])
        assert printed == [check_text(spec, text)._asdict() for text in (*TYPED, *texts)]


def test_choice_is_taken_in_the_same(page: Page) -> None:
    spec = choice("nailing", "Nailing", choices=(Choice("centre", "Centre"), Choice("head", "Head")), hint="Look.")
    texts = ["centre", "head", "", "Head", "tail"]
    assert page.evaluate(CHECK, [_as_object(spec), texts]) == [check_text(spec, text)._asdict() for text in texts]


def _as_object(value: Any) -> Any:
    """Turn records into what JavaScript holds for them."""
    if hasattr(value, "_asdict"):
        return {name: _as_object(each) for name, each in value._asdict().items()}
    return [_as_object(each) for each in value] if isinstance(value, tuple) else value


SUBSET = """
import math
from typing import NamedTuple

class Layer(NamedTuple):
    name: str
    thick_mm: float

LAYERS = (Layer("board", 12.5), Layer("wool", 200), Layer("film", 0.2))
TABLE = ((11, 395), (15, 290), (30, 150))

def everything(a: float, n: int, word: str, many: tuple[float, ...], maybe: float | None) -> tuple[object, ...]:
    total = 0.0
    names: tuple[str, ...] = ()
    for layer in LAYERS:
        if layer.thick_mm < 1:
            continue
        total = total + layer.thick_mm
        names = (*names, layer.name)
    found = -1
    for row in TABLE:
        if a <= row[0]:
            found = row[1]
            break
    count = 0
    for i in range(1, n):
        for _ in range(i):
            count = count + i * _
    letters = ""
    for letter in word:
        letters = letter + letters
    kept = total if maybe is None else maybe
    low = min(a, 2, -n) if n in (1, 2, 3) or word == "up" else max(a, 0.5)
    both = a > 1 and not word in ("x", "y") or maybe is not None
    grown = math.pow(abs(a) + 1, 0.5) + math.radians(a) * math.pi - math.degrees(math.atan2(a, 2))
    whole = math.floor(a / 3) - math.ceil(a / 7)
    text = f"{word} has {n} of {whole}{{}}" + str(whole + n) + "x\\u2028</b>"
    return (total, names, found, count, letters, kept, low, both, grown, text, {"a": a, "n": None}["a"],
            word.find("p"), word[1:], many[1:], len(many), many[0], -a, a != n, Layer(name="z", thick_mm=a).thick_mm)
"""


@given(
    st.floats(-50, 50), st.integers(0, 5), st.sampled_from(("up", "x", "", "pip", "äö°")), st.none() | st.floats(0, 9)
)
@settings(max_examples=60)
def test_everything_in_the_subset_means_the_same(
    page: Page, everything: Any, a: float, n: int, word: str, maybe: float | None
) -> None:
    many = (a, 2.5, float(n))
    found = page.evaluate("(given) => everything(...given)", [a, n, word, list(many), maybe])
    wanted = everything(a, n, word, many, maybe)
    assert len(found) == len(wanted)
    for one, other in zip(found, wanted, strict=True):
        plain = list(other) if isinstance(other, tuple) else other
        assert one == (pytest.approx(plain, rel=1e-9) if isinstance(plain, int | float) else plain)


@pytest.fixture(scope="module")
def everything(page: Page, tmp_path_factory: pytest.TempPathFactory) -> Any:
    """A function that uses the whole subset, printed into the page too."""
    path = tmp_path_factory.mktemp("subset") / "subset.py"
    path.write_text(SUBSET, encoding="utf-8")
    linecache.clearcache()
    spec = importlib.util.spec_from_file_location("subset", path)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    printed = print_function(module.everything)
    constants = "".join(f"const {name} = {value_text(value)};\n" for name, value in printed.needed.items())
    page.add_script_tag(content=constants + printed.text)
    return module.everything


def test_nothing_is_asked_of_another_host(page: Page) -> None:
    assert not any(word in program(FORMULAS) for word in ("http:", "https:", "fetch", "import(", "XMLHttpRequest"))
    assert page.evaluate("performance.getEntriesByType('resource').length") == 0


def test_program_runs_as_a_classic_script_from_a_folder(chromium: Browser, tmp_path: Path) -> None:
    (tmp_path / "reckoning.js").write_text(program(FORMULAS), encoding="utf-8")
    (tmp_path / "page.html").write_text('<!doctype html><meta charset="utf-8"><script src="reckoning.js"></script>')
    page = chromium.new_page()
    page.goto((tmp_path / "page.html").as_uri())
    assert page.evaluate("reckoning.formulas['sheet-lap'].reckon(30, 150).verdict") == "enough"
    page.close()
