"""The JSON Schema that editors use: current, explained key by key, and of the same mind as the program.

No library for JSON Schema is among the project's own, so the few keywords that the schemas use are judged
here, as JSON Schema 2020-12 (core and validation) defines them; a keyword that is not judged fails the test.
"""

import json
import re
from pathlib import Path

import pytest
from guides import GOOD, HELD, ROOT, broken_guide, broken_names

from build_tools.model import Record
from build_tools.sources.compose import compose
from build_tools.sources.data_tables import DATA
from build_tools.sources.library import PROOFS, TABLES
from build_tools.sources.schema import FOLDER, schema_files
from build_tools.sources.source import SourceFile

SCHEMAS = {Path(path).name.split(".")[0]: json.loads(text) for path, text in schema_files().items()}
TYPES = {
    "string": str,
    "boolean": bool,
    "object": dict,
    "array": tuple,
    "integer": int,
    "number": (int, float),
    "null": type(None),
}
TELLS_ONLY = {"title", "description", "default", "$defs", "$schema", "format"}


def faults(schema, value, root):
    """Give the keywords of a schema that a value breaks; what is of another type is judged no further."""
    if "type" in schema and not JUDGES["type"](schema["type"], value, schema, root):
        return ["type"]
    asked = {word: each for word, each in schema.items() if word not in TELLS_ONLY}
    return [word for word, each in asked.items() if not JUDGES[word](each, value, schema, root)]


def fits(schema, value, root):
    return not faults(schema, value, root)


def fits_reference(asked, value, schema, root):
    return fits(root["$defs"][asked.removeprefix("#/$defs/")], value, root)


def fits_properties(asked, value, schema, root):
    return all(fits(asked[key], item, root) for key, item in value.items() if key in asked)


def fits_additional(asked, value, schema, root):
    known = re.compile("|".join(schema.get("patternProperties", ["(?!)"])))
    more = [item for key, item in value.items() if key not in schema.get("properties", {}) and not known.search(key)]
    return not more if asked is False else asked is True or all(fits(asked, item, root) for item in more)


def fits_pattern_properties(asked, value, schema, root):
    return all(
        fits(inner, item, root) for key, item in value.items() for each, inner in asked.items() if re.search(each, key)
    )


JUDGES = {
    "$ref": fits_reference,
    "properties": fits_properties,
    "additionalProperties": fits_additional,
    "patternProperties": fits_pattern_properties,
    "propertyNames": lambda asked, value, schema, root: all(fits(asked, key, root) for key in value),
    "type": lambda asked, value, schema, root: (
        isinstance(value, TYPES[asked]) and isinstance(value, bool) == (asked == "boolean")
    ),
    "enum": lambda asked, value, schema, root: value in asked,
    "required": lambda asked, value, schema, root: set(asked) <= set(value),
    "items": lambda asked, value, schema, root: all(fits(asked, item, root) for item in value),
    "oneOf": lambda asked, value, schema, root: sum(fits(each, value, root) for each in asked) == 1,
    "anyOf": lambda asked, value, schema, root: any(fits(each, value, root) for each in asked),
    "pattern": lambda asked, value, schema, root: re.search(asked, value) is not None,
    "minLength": lambda asked, value, schema, root: len(value) >= asked,
    "maxLength": lambda asked, value, schema, root: len(value) <= asked,
    "minItems": lambda asked, value, schema, root: len(value) >= asked,
    "maxItems": lambda asked, value, schema, root: len(value) <= asked,
    "minProperties": lambda asked, value, schema, root: len(value) >= asked,
    "maxProperties": lambda asked, value, schema, root: len(value) <= asked,
    "minimum": lambda asked, value, schema, root: value >= asked,
    "maximum": lambda asked, value, schema, root: value <= asked,
}


def schema_of(path):
    """Name the schema for a file under trees/."""
    if path.stem in (*TABLES, *DATA, *PROOFS):
        return path.stem
    return {"remedies": "remedy", "cases": "case"}.get(path.parent.name, "tree")


def values_of(root):
    """Give the name of the schema, the path and the plain value of every file of a guide."""
    for path in sorted((root / "trees").rglob("*.yaml")):
        composed, _ = compose(SourceFile(path.name, path.read_text(encoding="utf-8")))
        yield schema_of(path), path.name, composed.value


def records(kind=Record):
    return [each for sub in kind.__subclasses__() for each in (sub, *records(sub))]


def test_schema_files_are_current():
    written = {path: (ROOT / path).read_text(encoding="utf-8") for path in schema_files()}
    assert written == schema_files(), "run `python -m build_tools schema`"
    assert {f"{FOLDER}/{each.name}" for each in (ROOT / FOLDER).iterdir()} == set(written)


@pytest.mark.parametrize("record", records())
def test_every_key_of_the_model_explains_itself(record):
    unexplained = [
        name for name, field in record.model_fields.items() if not (field.description or "").endswith((".", "?"))
    ]
    assert not unexplained and record.__doc__


@pytest.mark.parametrize("name", SCHEMAS)
def test_every_key_of_the_schema_explains_itself(name):
    kinds = [SCHEMAS[name], *SCHEMAS[name].get("$defs", {}).values()]
    properties = [(key, each) for kind in kinds for key, each in kind.get("properties", {}).items()]
    assert [key for key, each in properties if not each.get("description")] == []
    assert all(kind.get("additionalProperties") is False for kind in kinds if "properties" in kind)


@pytest.mark.parametrize("root", [GOOD, HELD, ROOT], ids=["good", "held", "project"])
def test_what_the_program_accepts_the_schema_accepts(root):
    refused = [(path, faults(SCHEMAS[kind], value, SCHEMAS[kind])) for kind, path, value in values_of(root)]
    assert [each for each in refused if each[1]] == []


OF_SHAPE = [
    name
    for name in broken_names()
    if name.split(".")[0] in ("unknown-key", "missing-key", "unknown-step-kind", "wrong-value")
]
NOT_OF_SCHEMA = {"wrong-value.day", "wrong-value.day-order", "wrong-value.empty-file", "wrong-value.pattern"}
"""The form of a day or pattern is only a hint in JSON Schema, and an editor checks nothing in an empty file."""


@pytest.mark.parametrize("name", sorted(set(OF_SHAPE) - NOT_OF_SCHEMA))
def test_what_the_program_refuses_for_its_shape_the_schema_refuses(name, tmp_path):
    root = broken_guide(name, tmp_path)
    assert any(faults(SCHEMAS[kind], value, SCHEMAS[kind]) for kind, _, value in values_of(root))
