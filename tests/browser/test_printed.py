"""The JavaScript printed from the formulas, against the Python, in a browser: the same to the last printed letter.

Numbers agree within a relative 1e-9, since sines and exponentials may differ in their last digit between the
two; verdicts, rounded outputs, working lines and drawings are the same, at every edge too.
"""

from __future__ import annotations

import importlib.util
import json
import linecache
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import build_up
import pytest
from build_up import BUILD_UP
from edges import Values, all_edges
from hypothesis import given, settings
from hypothesis import strategies as st
from made_values import seeded_rows, tried
from own_tables import FORMULAS
from playwright.sync_api import Browser, Page
from test_published import CASES

from build_tools.formulas import Formula, validate
from build_tools.formulas.definition import Choice, choice, number, rows_input
from build_tools.formulas.validation import check_count, check_text
from build_tools.javascript import program
from build_tools.javascript.functions import print_function
from build_tools.javascript.values import value_text

TRIED = {**FORMULAS, BUILD_UP.id: BUILD_UP}
"""All formulas, and one of the tests that has every kind of input and a data table."""
EDGES = {**all_edges(), **build_up.EDGES}

# As one text each way: the driver's own way of passing lists is several times slower.
RUN = """(given) => {
  const [name, rows] = JSON.parse(given);
  const formula = reckoning.formulas[name];
  return JSON.stringify(rows.map((row) => {
    const found = formula.reckon(...row);
    return {...found, drawn: formula.draw ? formula.draw(...row, found.outputs) : ""};
  }));
}"""


OTHER_ENGINE = """(factor) => {
  for (const name of ["sin", "cos", "tan", "asin", "acos", "atan", "atan2", "exp", "log", "log10", "pow"]) {
    const exact = Math[name];
    Math[name] = (...given) => exact(...given) * factor;
  }
}"""


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
    """An empty page with the printed program in it."""
    empty = chromium.new_page()
    empty.add_script_tag(content=program(TRIED))
    yield empty
    empty.close()


@pytest.fixture(scope="module")
def engines(page: Page, chromium: Browser) -> Iterator[list[Page]]:
    """The page, and two whose sines and exponentials end in another digit, as the language allows."""
    others = [chromium.new_page(), chromium.new_page()]
    for other, factor in zip(others, (1 + 2**-52, 1 - 2**-52), strict=True):
        other.evaluate(OTHER_ENGINE, factor)
        other.add_script_tag(content=program(TRIED))
    yield [page, *others]
    for other in others:
        other.close()


def assert_same(pages: list[Page], formula: Formula, rows: list[Values]) -> None:
    """Run all on the same inputs and compare all that they give."""
    python = [formula.function(*row) for row in rows]
    drawn = [formula.draw(*row, each.outputs) if formula.draw else "" for row, each in zip(rows, python, strict=True)]
    given = json.dumps([formula.id, rows])
    for page in pages:
        printed = json.loads(page.evaluate(RUN, given))
        for row, wanted, picture, found in zip(rows, python, drawn, printed, strict=True):
            where = f"{formula.id}{row}"
            assert found["verdict"] == wanted.verdict, where
            assert found["working"] == list(wanted.working), where
            assert list(found["outputs"]) == list(wanted.outputs), where
            assert all(_close(found["outputs"][name], value) for name, value in wanted.outputs.items()), where
            assert found["drawn"] == picture, where


def _close(found: float | None, wanted: float | None) -> bool:
    if found is None or wanted is None:
        return found is wanted
    return math.isclose(found, wanted, rel_tol=1e-9, abs_tol=1e-12)


@pytest.mark.parametrize("name", TRIED)
def test_seeded_inputs_give_the_same(page: Page, name: str) -> None:
    assert_same([page], TRIED[name], seeded_rows(TRIED[name], tried(500, 10_000)))


def test_every_formula_has_its_edges() -> None:
    assert set(EDGES) == set(TRIED)


@pytest.mark.parametrize("name", EDGES)
@given(data=st.data())
@settings(max_examples=tried(12, 60))
def test_inputs_near_every_edge_give_the_same_whatever_the_last_digit(
    engines: list[Page], name: str, data: st.DataObject
) -> None:
    # Left to itself, the library draws more than half of its inputs twice.
    assert_same(engines, TRIED[name], data.draw(st.lists(EDGES[name](), min_size=50, max_size=50, unique=True)))


@pytest.mark.parametrize(("name", "case"), CASES)
def test_published_value_in_javascript(page: Page, name: str, case: dict[str, Any]) -> None:
    values = validate(TRIED[name], case["given"]).values
    (found,) = json.loads(page.evaluate(RUN, json.dumps([name, [list(values.values())]])))
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


@pytest.mark.parametrize("name", TRIED)
@given(texts=st.lists(st.text(st.sampled_from("0123456789.,-− a°")) | st.text(), min_size=100, max_size=100))
@settings(max_examples=5)
def test_what_is_typed_is_taken_in_the_same(page: Page, name: str, texts: list[str]) -> None:
    for spec in [entry for each in TRIED[name].inputs for entry in each.columns or (each,)]:
        printed = page.evaluate(CHECK, [_as_object(spec), [*TYPED, *texts]])
        assert printed == [check_text(spec, text)._asdict() for text in (*TYPED, *texts)]


def test_choice_is_taken_in_the_same(page: Page) -> None:
    spec = choice("nailing", "Nailing", choices=(Choice("centre", "Centre"), Choice("head", "Head")), hint="Look.")
    texts = ["centre", "head", "", "Head", "tail"]
    assert page.evaluate(CHECK, [_as_object(spec), texts]) == [check_text(spec, text)._asdict() for text in texts]


def test_whole_number_is_taken_in_the_same(page: Page) -> None:
    spec = number("tiles_count", "Tiles", low=1, high=60, whole=True, hint="Count them.")
    texts = ["", "1", "2.5", "2,5", "12.0", "60", "61", "0", "0.9999999999", "59.9999999999999999", "a dozen"]
    assert page.evaluate(CHECK, [_as_object(spec), texts]) == [check_text(spec, text)._asdict() for text in texts]


def test_number_of_lines_is_judged_the_same(page: Page) -> None:
    column = number("thickness_mm", "Thickness", low=1, high=500, hint="Measure it.")
    spec = rows_input("layers", "Layers", columns=(column,), low=1, high=3, hint="From inside to outside.")
    check = "([spec, counts]) => counts.map((count) => reckoning.check_count(spec, count))"
    counts = [0, 1, 2, 3, 4, 40]
    assert page.evaluate(check, [_as_object(spec), counts]) == [check_count(spec, count) for count in counts]


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

class Roof(NamedTuple):
    label: str
    layers: tuple[Layer, ...]
    top: Layer

LAYERS = (Layer("board", 12.5), Layer("wool", 200), Layer("film", 0.2))
ROOFS = (Roof("cold", LAYERS, Layer("slate", 6)), Roof("warm", (), Layer("tile", 15)))
TABLE = ((11, 395), (15, 290), (30, 150))

def crossing(low: float, high: float, wanted: float) -> float:
    for _ in range(60):
        middle = (low + high) / 2
        if math.sqrt(middle) * math.exp(middle / 9) < wanted:
            low = middle
        else:
            high = middle
    return low

def thickness(layers: tuple[tuple[str, float, int | None], ...]) -> tuple[float, str, bool]:
    total = 0.0
    said = ""
    any_thick = False
    for material, thick_mm, count in layers:
        times = 1 if count is None else count
        total = total + thick_mm * times
        for i in range(times):
            said = said + ("" if said == "" else ", ") + f"{material}{i}"
        any_thick = any_thick or thick_mm > 100
    return (total, said, any_thick)

def everything(a: float, n: int, word: str, many: tuple[float, ...], maybe: float | None,
               layers: tuple[tuple[str, float, int | None], ...]) -> tuple[object, ...]:
    pairs: tuple[tuple[str, float], ...] = ()
    for i in range(len(layers)):
        pairs = (*pairs, (layers[i][0], layers[i][1] + i))
    longest = ("", 0.0)
    for pair in pairs:
        longest = pair if pair[1] > longest[1] else longest
    tops = ""
    for roof in ROOFS:
        tops = tops + roof.top.name + str(len(roof.layers))
        for layer in roof.layers:
            tops = tops + layer.name
    tops = tops + ROOFS[0].layers[1].name
    sum_of_rows = 0.0
    for first, second in TABLE:
        sum_of_rows = sum_of_rows + first * second
    summed = thickness(layers)
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
            word.find("p"), word[1:], many[1:], len(many), many[0], -a, a != n, Layer(name="z", thick_mm=a).thick_mm,
            pairs, longest[0], longest[1], tops, sum_of_rows, summed[0], summed[1], summed[2],
            crossing(0, 100, abs(a)), Roof(label="x", layers=LAYERS, top=LAYERS[0]).top.name)
"""


@given(
    st.floats(-50, 50),
    st.integers(0, 5),
    st.sampled_from(("up", "x", "", "pip", "äö°")),
    st.none() | st.floats(0, 9),
    st.lists(st.tuples(st.sampled_from(("board", "wool")), st.floats(1, 200), st.none() | st.integers(1, 3))),
)
@settings(max_examples=60)
def test_everything_in_the_subset_means_the_same(
    page: Page, everything: Any, a: float, n: int, word: str, maybe: float | None, layers: list[Any]
) -> None:
    many = (a, 2.5, float(n))
    found = page.evaluate("(given) => everything(...given)", [a, n, word, list(many), maybe, layers])
    wanted = everything(a, n, word, many, maybe, tuple(layers))
    assert len(found) == len(wanted)
    for one, other in zip(found, wanted, strict=True):
        plain = _as_object(other)
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
    printed = [print_function(each) for each in (module.everything, module.crossing, module.thickness)]
    needed = {name: value for each in printed for name, value in each.needed.items() if not callable(value)}
    constants = "".join(f"const {name} = {value_text(value)};\n" for name, value in needed.items())
    page.add_script_tag(content=constants + "".join(each.text for each in printed))
    return module.everything


def test_nothing_is_asked_of_another_host(page: Page) -> None:
    printed = program(FORMULAS)
    assert not any(word in printed for word in ("http:", "https:", "fetch", "import(", "XMLHttpRequest"))
    assert page.evaluate("performance.getEntriesByType('resource').length") == 0


def test_program_runs_as_a_classic_script_from_a_folder(chromium: Browser, tmp_path: Path) -> None:
    (tmp_path / "reckoning.js").write_text(program(FORMULAS), encoding="utf-8")
    (tmp_path / "page.html").write_text('<!doctype html><meta charset="utf-8"><script src="reckoning.js"></script>')
    page = chromium.new_page()
    page.goto((tmp_path / "page.html").as_uri())
    assert page.evaluate("reckoning.formulas['sheet-lap'].reckon(30, 150).verdict") == "enough"
    page.close()
