"""YAML as values with places: what is text, what is a number, where each key stands, what is refused."""

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from build_tools.sources.compose import DEEPEST, MOST_VALUES, compose
from build_tools.sources.source import SourceFile


def value_of(text):
    composed, problems = compose(SourceFile("f.yaml", text))
    assert not problems
    return composed.value


def told(text):
    """Give code, line and column of each problem."""
    return [(each.code, each.place.line, each.place.column) for each in compose(SourceFile("f.yaml", text))[1]]


# YAML 1.2.2, section 10.3.2, tag resolution of the core schema (from memory, not seen): true and false alone
# are booleans, null and ~ are null. Here numbers are narrower still: no octal, no hexadecimal, no exponent.
@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("yes", "yes"),
        ("no", "no"),
        ("on", "on"),
        ("true", True),
        ("false", False),
        ("True", "True"),
        ("~", None),
        ("", None),
        ("12", 12),
        ("-3", -3),
        ("1.5", 1.5),
        ("012", "012"),
        ("0x1F", "0x1F"),
        ("1_000", "1_000"),
        ("1e3", "1e3"),
        (".5", ".5"),
        ("1:30", "1:30"),
        ("1.0.0", "1.0.0"),
        ("2026-11-25", "2026-11-25"),
        ("'12'", "12"),
        ("9" * 40, "9" * 40),
    ],
)
def test_plain_value_is_read_as_its_author_meant_it(written, value):
    found = value_of(f"a: {written}\n")["a"]
    assert (found, type(found)) == (value, type(value))


words = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Cn", "Co")), max_size=12)
data = st.recursive(
    words,
    lambda inner: st.lists(inner, min_size=1, max_size=3) | st.dictionaries(words.filter(bool), inner, min_size=1),
)


@given(st.dictionaries(words.filter(bool), data, min_size=1, max_size=4))
def test_composed_value_is_the_one_that_was_written(value):
    text = yaml.dump(value, default_flow_style=False, allow_unicode=True, default_style='"')
    assert value_of(text) == with_tuples(value)


def with_tuples(value):
    if isinstance(value, dict):
        return {key: with_tuples(item) for key, item in value.items()}
    return tuple(with_tuples(item) for item in value) if isinstance(value, list) else value


def test_places_are_those_of_keys_and_of_items():
    composed, _ = compose(SourceFile("f.yaml", "é: first\nlist:\n  - one\n  -   two\nlast:\n    deep: 1\n"))
    places = {keys: (place.line, place.column) for keys, place in composed.places.items()}
    assert places[("é",)] == (1, 1) and places[("list", 1)] == (4, 7) and places[("last", "deep")] == (6, 5)
    assert composed.value_places[("é",)].column == 4 and composed.value_places[("last", "deep")].column == 11


@pytest.mark.parametrize("line_break", ["\n", "\r\n", "\r", "\x85", "\u2028"])
def test_lines_are_counted_as_the_parser_counts_them(line_break):
    source = SourceFile("f.yaml", f"a: x{line_break}b: y #z{line_break}")
    _, problems = compose(source)
    assert [(each.place.line, each.place.column) for each in problems] == [(2, 5)]
    assert source.line(2) == "b: y #z"


def test_column_counts_letters_after_an_accent():
    assert told("tür: über: x\n") == [("not-yaml", 1, 10)]


@pytest.mark.parametrize(
    ("text", "places"),
    [
        ("a: x #y\n", [(1, 5)]),
        ("a:\n  - x  # y\n", [(2, 6)]),
        ("a: two\n  lines #y\n", [(2, 8)]),
        ("a: 12 # mm\n", []),
        ("a: 'x' # y\n", []),
        ("a: x#y\n", []),
        ("a: >-\n  x #y\n", []),
        ("# y\na: x\n# y\n", []),
    ],
)
def test_swallowed_text_is_told_where_words_are_lost(text, places):
    assert told(text) == [("swallowed-text", *place) for place in places]


def test_all_duplicate_keys_of_a_file_are_told():
    assert told("a: 1\na: 2\nb:\n  c: 3\n  c: 4\n") == [("duplicate-key", 2, 1), ("duplicate-key", 5, 3)]


def test_first_of_two_equal_keys_is_kept():
    composed, _ = compose(SourceFile("f.yaml", "a: 1\na: 2\n"))
    assert composed.value == {"a": 1}


@pytest.mark.parametrize(
    "text", ["[" * 200_000, "{a: " * 100_000, "- " * 100_000 + "x", "? " * 100_000, "!!a " * 9_999]
)
def test_deep_nesting_stops_early_and_does_not_crash(text):
    assert told(text)


def test_depth_is_bounded_where_the_format_says():
    def nested(depth):
        return "".join(f"{'  ' * level}k:\n" for level in range(depth)) + "  " * depth + "k: v\n"

    assert told(nested(DEEPEST - 1)) == []
    assert [code for code, _, _ in told(nested(DEEPEST))] == ["too-deep-nesting"]


def test_number_of_values_is_bounded_where_the_format_says():
    assert told("- x\n" * (MOST_VALUES - 1)) == []
    assert [code for code, _, _ in told("- x\n" * MOST_VALUES)] == ["too-many-values"]


def test_aliases_that_would_grow_without_end_are_refused():
    bomb = "a: &a\n  - x\n" + "".join(f"{n}: &{n}\n  - *a\n  - *a\n" for n in "bcdef")
    assert {code for code, _, _ in told(bomb)} == {"anchor"}


def test_byte_order_mark_is_no_text(tmp_path):
    from build_tools.sources.source import read_source

    (tmp_path / "f.yaml").write_bytes(b"\xef\xbb\xbfa: x\n")
    assert read_source(tmp_path, tmp_path / "f.yaml").text == "a: x\n"


def test_empty_file_has_no_value():
    assert value_of("# nothing\n") is None
