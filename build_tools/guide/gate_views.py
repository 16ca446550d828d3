"""Gates and cautions as pages show them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from build_tools.guide.views import CautionView, ConditionsView, GateView, PickView
from build_tools.model import MILDEST_FIRST, Gate
from build_tools.sources.gates import parts
from build_tools.sources.library import Draft


def caution_views(draft: Draft, names: Iterable[str]) -> tuple[CautionView, ...]:
    """Give cautions, the gravest first."""
    views = [CautionView(name, draft.cautions[name]) for name in names]
    return tuple(sorted(views, key=lambda each: -MILDEST_FIRST.index(each.caution.signal)))


def gate_view(draft: Draft, name: str) -> GateView:
    """Give a gate with its conditions by roof, and what a joined one picks from."""
    gate = draft.gates[name]
    joined = parts(draft.written_gates[name], draft.written_gates)
    words = draft.vocabulary.roof
    return GateView(
        id=name,
        gate=gate,
        cautions=caution_views(draft, gate.cautions),
        groups=tuple(_groups(draft, gate)),
        picks=tuple(PickView(roof, words[roof], part, each) for part, each in joined.items() for roof in each.roofs),
        closed=tuple(
            words[roof] for roof in words if joined and not any(roof in g.roofs for g in draft.gates.values())
        ),
    )


def _groups(draft: Draft, gate: Gate) -> Iterator[ConditionsView]:
    always = tuple(each for each in gate.all_of if not each.on)
    if always:
        yield ConditionsView("", "", always)
    for roof in gate.roofs:
        only = tuple(each for each in gate.all_of if roof in each.on)
        if only:
            yield ConditionsView(roof, draft.vocabulary.roof[roof], only)
