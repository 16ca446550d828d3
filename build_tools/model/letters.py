"""Letters that nobody can see: which they are, what each is called, and a mark in place of each."""

from __future__ import annotations

import re
import unicodedata

HIDDEN = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f"  # controls, but for tab and line feed
    "\u00ad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b-\u200f\u202a-\u202e\u2060-\u206f"
    "\u3164\ufe00-\ufe0f\ufeff\uffa0\ufff0-\ufffb\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e0fff"
    "\u2028\u2029\ud800-\udfff\ue000-\uf8ff\U000f0000-\U0010ffff]+"  # line separators, halves, private use
)
"""A run of what a terminal would obey, what turns the letters beside it round, and what leaves no trace.

Source: Unicode Character Database, DerivedCoreProperties, Default_Ignorable_Code_Point (from memory).
"""


def visible(text: str) -> str:
    """Put a mark in place of all letters that nobody can see, so that a terminal shows what is there."""
    return HIDDEN.sub("\N{REPLACEMENT CHARACTER}", text)


def name_of(letter: str) -> str:
    """Call a letter by its number, and by its name where it has one."""
    name = unicodedata.name(letter, "").lower()
    return f"U+{ord(letter):04X} ({name})" if name else f"U+{ord(letter):04X}"
