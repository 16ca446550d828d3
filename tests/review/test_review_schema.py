"""The schema of a review's JSON: current, and of the same mind as the record it is made from."""

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from reviewed import edited, reviewed

from build_tools.review.words.as_json import SCHEMA, as_json, schema_text

ROOT = Path(__file__).parent.parent.parent
RULES = json.loads(schema_text())
KINDS = {"string": str, "array": list, "integer": int, "number": (int, float), "null": type(None), "object": dict}
TELLS_ONLY = {"title", "description", "default", "$defs", "$schema"}


def fits(rule, value):
    """Judge a value by the few keywords that the schema uses; an unknown one fails."""
    judged = {
        "$ref": lambda each: fits(RULES["$defs"][each.removeprefix("#/$defs/")], value),
        "type": lambda each: isinstance(value, KINDS[each]) and not isinstance(value, bool),
        "enum": lambda each: value in each,
        "anyOf": lambda each: any(fits(one, value) for one in each),
        "items": lambda each: all(fits(each, one) for one in value),
        "required": lambda each: set(each) <= set(value),
        "properties": lambda each: all(fits(each[key], one) for key, one in value.items() if key in each),
        "additionalProperties": lambda each: each is False and set(value) <= set(rule["properties"]),
        "minimum": lambda each: value >= each,
    }
    if "type" in rule and not judged["type"](rule["type"]):
        return False
    return all(judged[word](each) for word, each in rule.items() if word not in TELLS_ONLY)


def test_schema_file_is_current(request):
    if request.config.getoption("--update-expected"):
        (ROOT / SCHEMA).write_text(schema_text(), encoding="utf-8")
    assert (ROOT / SCHEMA).read_text(encoding="utf-8") == schema_text(), "run pytest with --update-expected"


def test_every_key_of_the_schema_explains_itself():
    kinds = [RULES, *RULES["$defs"].values()]
    assert [key for kind in kinds for key, each in kind["properties"].items() if not each.get("description")] == []


@settings(max_examples=50)
@given(edited())
def test_every_review_fits_the_schema(versions):
    assert fits(RULES, json.loads(as_json(reviewed(*versions))))


@pytest.mark.parametrize(
    ("key", "value"), [("step", "huge"), ("safety", [{"change": "removed"}]), ("before", None), ("surplus", 1)]
)
def test_what_is_no_review_does_not_fit(key, value):
    plain = json.loads(as_json(reviewed(*[{"trees": {}, "remedies": {}}] * 2)))
    assert fits(RULES, plain) and not fits(RULES, {**plain, key: value})
