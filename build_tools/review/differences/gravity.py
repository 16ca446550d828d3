"""What somebody must look at, and why: the one place of the rules by which a finding is grave.

A rule looks at one row: what it is of, which key differs, and the two values. It gives the reason in a few plain
words, or nothing. A value that comes for the first time is judged where it may send somebody into danger.
Not judged here: names of sources, drawings and parts, minutes that a question takes, and what only authors read.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping

from build_tools.model import Effort, Where
from build_tools.review.differences.findings import NAMES
from build_tools.review.differences.turns import numbers_changed, turned
from build_tools.review.record.changes import Change, Ending, Row

GUARDS: Mapping[Change, str] = {
    "removed": "it no longer guards here",
    "weakened": "it guards less than it did",
    "moved-later": "it comes later than it did",
    "changed": "only a person can tell whether other words are milder",
}
"""Of cautions, gates and hazards every loss is grave, and every other wording."""
MILDEST_FIRST: Mapping[str, tuple[str, ...]] = {
    "effort": tuple(map(str, Effort)),
    "glass": ("not-touched", "stays-in", "comes-out"),
    "lasts": ("lasting", "stopgap", "mends-nothing"),
    "urgent": ("False", "True"),
}
"""Keys whose first value asks for the least care."""
LED: Mapping[str, str] = {
    "then": "the walk goes on elsewhere when this is done",
    "after-failed-proof": "a failed proof leads elsewhere",
    "make-safe": "Stop, come down offers something else",
    "first-tree": "whoever knows nothing begins elsewhere",
    "given": "something else is measured, or with other numbers",
    "formula": "another formula gives the size",
    "establishes": "an answer makes something else certain",
    "assumes": "something else is taken for certain",
    "lies-on": "other gates fit what lies on this roof",
    "steps": "the work is done in another order",
    "gate": "another gate stands here",
}
"""Keys of which any change is grave."""
IDS = ("hazards", "acts", "followed-by")
"""Lists of ids, of which none may go."""
GEAR = ("tools", "carry")
"""Lists in words, which may be reworded and not get shorter."""
FREE = re.compile(
    r"\b(any\w*|every\w*|whoever|whole|or|alone|also|may|you|yourself|even|handy|reader)\b", re.IGNORECASE
)
"""Words by which more people may do it."""
MUTE = frozenset((*NAMES, "minutes", "starts-at", "remedy", "go-to", "exits", "kind", "id", "any-order", "version"))
"""Keys whose values are no words and no numbers of the work; where an exit leads is told by the paths."""
WORDED = ("tree", "step", "remedy", "work step", "material", "caution", "gate", "hazard", "term", "vocabulary")
Judge = Callable[[Row, str], str]


def with_reason(section: str, row: Row, *, ran: bool) -> Row:
    """Give a row its reason where somebody must look at it. ran: whether formulas were run in both versions."""
    reason = row.grave or _reason(section, row, ran)
    return row.model_copy(update={"grave": reason}) if reason != row.grave else row


def _reason(section: str, row: Row, ran: bool) -> str:
    kind, key = kind_of(row.subject), row.detail.partition(" ")[0]
    if section == "safety":
        return _guard(row)
    if kind == "formula":
        return _code(section, row, ran)
    if kind == "table":
        return "a value that formulas reckon with is another" if section == "values" and row.change != "added" else ""
    if kind == "work step" and not key and row.change == "removed":
        return "a step of the work is gone"
    came_or_gone = not key and row.change != "changed"
    if kind not in (*WORDED, "settings") or key in MUTE or came_or_gone:
        return ""
    judged = (judge(row, key) for judge in (_led, _place, _milder, _who, _fewer, _wider, _longer))
    return next(filter(None, judged), "") or _words(row, key)


def left_safety(before: Ending, after: Ending, answer: str, safe: Mapping[str, str]) -> str:
    """Say which remedies that make safe a way no longer comes to. safe: their titles by id; answer: where it parts."""
    kept = {*after.past, after.name}
    lost = [name for name in (*before.past, before.name) if name in safe and name not in kept]
    if not lost:
        return ""
    doubt = "whoever cannot tell" if answer == "unsure" else "somebody"
    return f"{doubt} is no longer led to {', '.join(f'“{safe[name]}”' for name in lost)}, which makes safe"


def kind_of(subject: str) -> str:
    """Tell what a row is of: `work step` of 'remedy "r", work step', and `step` of 'step tree/name'."""
    _, sign, inner = subject.partition('", ')
    return inner if sign and inner in WORDED else subject.partition(" ")[0]


def _guard(row: Row) -> str:
    if row.change not in GUARDS:
        return ""
    return (_words(row, "") if row.change == "changed" else "") or GUARDS[row.change]


def _words(row: Row, key: str) -> str:
    # A reason goes with the way that it gave a reason for, and that is told by the paths.
    if (key == "title" and row.before is None) or (key == "since" and row.after is None):
        return ""
    numbers = "" if key in ("stands-months", "cleaning") else numbers_changed(row.before, row.after)
    return turned(row.before, row.after) or numbers


def _code(section: str, row: Row, ran: bool) -> str:
    if section != "values":
        return ""
    if not ran:
        return "the formulas were not run, so nobody knows which results move"
    return numbers_changed(row.before, row.after or "")


def _led(row: Row, key: str) -> str:
    return LED.get(key, "")


def _place(row: Row, key: str) -> str:
    if key != "where" or row.before is None or row.after is None:
        return ""
    places = [str(each) for each in Where]
    if places.index(row.after) > places.index(row.before):
        return f"it leads people to a more dangerous place: {row.after}, not {row.before}"
    return f"its place is called safer than it was: {row.after}, not {row.before}"


def _milder(row: Row, key: str) -> str:
    order = MILDEST_FIRST.get(key, ())
    if row.before not in order or row.after not in order or order.index(row.after) >= order.index(row.before):
        return ""
    if key == "urgent":
        return "it is no longer urgent"
    return f"it asks for less care: {row.after}, not {row.before}"


def _who(row: Row, key: str) -> str:
    """Take every other wording for a weaker one, but for words put in that let nobody else do it."""
    if key != "who":
        return ""
    old, new = ((each or "").split() for each in (row.before, row.after))
    rest = iter(new)
    if all(word in rest for word in old) and not FREE.search(" ".join(_without(new, old))):
        return ""
    return "other people may do it, and only a person can tell whether they know less"


def _without(words: list[str], others: Iterable[str]) -> list[str]:
    left = list(words)
    for each in others:
        left.remove(each)
    return left


def _fewer(row: Row, key: str) -> str:
    old, new = (_items(each) for each in (row.before, row.after))
    gone = [each for each in old if each not in new]
    if (key in IDS and gone) or (key in GEAR and len(new) < len(old)):
        return f"{key} no longer names {', '.join(gone)}"
    return ""


def _wider(row: Row, key: str) -> str:
    if key != "suits":
        return ""
    more = [each for each in _items(row.after) if each not in _items(row.before)]
    return f"it is said to fit {', '.join(more)} besides" if more else ""


def _items(listed: str | None) -> list[str]:
    return listed.split("; ") if listed else []


def _longer(row: Row, key: str) -> str:
    if key not in ("stands-months", "cleaning") or row.before is None:
        return ""
    numbers = [int(each) if each and each.isdigit() else None for each in (row.before, row.after)]
    if row.after is None or (None not in numbers and (numbers[1] or 0) > (numbers[0] or 0)):
        return f"it may wait longer: {row.after or 'no limit'}, not {row.before} months"
    return ""
