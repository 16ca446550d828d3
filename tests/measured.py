"""A small guide of one tree: a measure that takes a list, whose step settles the hands, then a question."""

from __future__ import annotations

from dataclasses import replace

from build_up import BUILD_UP
from guides import draft_of, question, remedy, tree

from build_tools.guide.pages import guide_view
from build_tools.guide.views import GuideView
from build_tools.proof.checks import CheckedGuide
from build_tools.sources.library import Draft

CARE = {
    **dict.fromkeys(("hazard", "consequence", "avoidance", "stop-when", "call"), "Text."),
    **{"signal": "notice", "answers": ("care",), "sources": ()},
}


def measured_guide() -> GuideView:
    """Make it."""
    return guide_view(CheckedGuide(measured_draft()))


def measured_draft() -> Draft:
    """Make it as it is before any proof."""
    words = {"question": "Are there hands enough?", "look": "Look.", "why": "It tells."}
    place = {"where": "inside", "effort": "look", "given": {"hands_count": 2}}
    exits = {"enough": "then", "too-few": "end", "unsure": "end"}
    steps = {
        "stack": {"measure": BUILD_UP.id, **words, **place, "exits": exits},
        "then": question("dry", "end", "end", "end"),
        "end": {"remedy": "r"},
    }
    draft = draft_of({"a": tree(steps)}, {"r": remedy()}, cautions={"care": CARE})
    return replace(draft, formulas={**draft.formulas, BUILD_UP.id: BUILD_UP})
