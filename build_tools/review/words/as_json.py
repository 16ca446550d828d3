"""A review as JSON, and the schema of that JSON; both are made from the record itself."""

from __future__ import annotations

import json

from build_tools.review.record.changes import Review

SCHEMA = "build_tools/review/review.schema.json"
"""Where the schema stands in the project."""


def as_json(review: Review) -> str:
    """Write a review as one JSON document."""
    return json.dumps(review.model_dump(mode="json"), indent=2, ensure_ascii=False)


def schema_text() -> str:
    """Write the JSON Schema that every review fits."""
    schema = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **Review.model_json_schema(mode="serialization"),
    }
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"
