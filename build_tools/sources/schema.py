"""The JSON Schema of each kind of file, for editors: made from the model, so that it cannot differ from it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from pydantic import TypeAdapter

from build_tools.model.data import DATA
from build_tools.sources.library import CASE, PROOFS, REMEDY, TABLES, TREE

FOLDER = "trees/schema"


def schema_files() -> Mapping[str, str]:
    """Give the text of every schema file by its path."""
    kinds: dict[str, TypeAdapter[Any]] = {"tree": TREE, "remedy": REMEDY, "case": CASE, **TABLES, **DATA, **PROOFS}
    return {f"{FOLDER}/{name}.schema.json": _text(kind) for name, kind in kinds.items()}


def _text(kind: TypeAdapter[Any]) -> str:
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", **kind.json_schema(by_alias=True)}
    return json.dumps(_closed(schema), indent=2, ensure_ascii=False) + "\n"


def _closed(schema: Any) -> Any:
    """Refuse keys that are no ids, which pydantic refuses and leaves open in its schema."""
    if isinstance(schema, list):
        return [_closed(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    closed = {"additionalProperties": False} if "patternProperties" in schema else {}
    return {key: _closed(value) for key, value in schema.items()} | closed
