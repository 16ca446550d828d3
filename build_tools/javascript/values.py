"""Constants as JavaScript, by their value."""

from __future__ import annotations

import json
from collections.abc import Mapping

from build_tools.javascript.kinds import fields_of, is_record


def value_text(value: object) -> str:
    """Print a constant by its value; records become objects."""
    if is_record(type(value)):
        names = fields_of(type(value))
        return "{" + ", ".join(f"{name}: {value_text(getattr(value, name))}" for name in names) + "}"
    if isinstance(value, tuple):
        return "[" + ", ".join(value_text(each) for each in value) + "]"
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{value_text(key)}: {value_text(each)}" for key, each in value.items()) + "}"
    # A page may hold the program inside a script element, which `</` would end.
    return json.dumps(value, ensure_ascii=False, allow_nan=False).replace("</", "<\\/")
