"""Rules of safety, over trees, remedies and their steps together.

A gate guards a place or act by dominance: every way to what needs it, from every entry that is published, takes
the yes of a gate that opens it.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping

from build_tools.model import GUARDED, MILDEST_FIRST, Act, Remedy, Where
from build_tools.model.problems import Finding
from build_tools.proof.graph import (
    ROOT,
    Graph,
    Node,
    cautions_for,
    forest_nodes,
    gates_of,
    hazards_of,
    needs,
    place_of,
    rooted_forest,
    step_at,
)
from build_tools.proof.guards import YES, on_every_way, reached_without
from build_tools.proof.rules.suiting import suiting
from build_tools.sources.library import Draft, remedy_path, table_path, tree_path

Gates = Mapping[Node, str]
"""Every node that is a gate, in trees and in remedies' work, with the gate's id."""


def safety(draft: Draft) -> Iterator[Finding]:
    """Find every way round a gate, every hazard without a caution, every remedy that does not fit."""
    forest, gates = rooted_forest(draft), gates_of(draft)
    yield from _ungated(draft, forest, gates)
    yield from _refusals(draft, forest, gates)
    yield from _hazards(draft)
    yield from _signals(draft)
    yield from _gates(draft)
    for name, remedy in draft.remedies.items():
        yield from _term(draft, name, remedy)
    yield from _make_safe(draft)
    yield from suiting(draft, forest)


def _opened(draft: Draft, gate: str) -> tuple[Where | Act, ...]:
    """Give what a gate opens; one that cannot be read is an error elsewhere, and opens all."""
    return draft.gates[gate].opens if gate in draft.gates else GUARDED


def _ungated(draft: Draft, forest: Graph, gates: Gates) -> Iterator[Finding]:
    opened = {node: _opened(draft, gate) for node, gate in gates.items()}
    open_there = on_every_way(forest, ROOT, opened)
    needing = {node: needs(step_at(draft, node)).intersection(GUARDED) for node in forest_nodes(draft)}
    missing = {node: needed - open_there[node] for node, needed in needing.items() if needed and node in open_there}
    for opening in GUARDED:
        bare = [node for node, places in missing.items() if opening in places]
        shut = {node for node, places in opened.items() if opening in places}
        came_from = reached_without(forest, ROOT, shut) if bare else {}
        for node in bare:
            path, keys = place_of(node)
            keys = (*keys, "where" if isinstance(opening, Where) else "acts")
            what = f'"{opening}" is needed here, and no gate opens it on the way {_way(came_from, node)}'
            yield Finding("ungated", path, keys, what, f'Put a gate that opens "{opening}" before it.')


def _way(came_from: Mapping[Node, Node | None], node: Node) -> str:
    """Write the way from the entry to a node."""
    way: list[Node] = []
    here: Node | None = node
    while here is not None and here != ROOT:
        way.append(here)
        here = came_from[here]
    return " -> ".join(str(each) for each in reversed(way))


def _refusals(draft: Draft, forest: Graph, gates: Gates) -> Iterator[Finding]:
    for name in (each for each in draft.gates if each in gates.values()):
        alike = [node for node, gate in gates.items() if gate == name]
        for opening in draft.gates[name].opens:
            # The same gate further on lets nobody through who was refused here; another one might.
            others = {node for node, gate in gates.items() if gate != name and opening in _opened(draft, gate)}
            for node in alike:
                yield from _refusal(draft, forest, node, opening, others)


def _refusal(
    draft: Draft, forest: Graph, node: Node, opening: Where | Act, others: Container[Node]
) -> Iterator[Finding]:
    for _, head, exit_name in forest.out_edges(node, keys=True):
        beyond = (head, *sorted(reached_without(forest, head, others))) if exit_name != YES else ()
        if there := next((each for each in beyond if opening in needs(step_at(draft, each))), None):
            path, keys = place_of(node)
            what = f'"{exit_name}" leads on to "{there}", which needs "{opening}"'
            mend = "Lead it to what can be done without going there."
            yield Finding("refused-leads-up", path, (*keys, "exits", exit_name), what, mend)


def _hazards(draft: Draft) -> Iterator[Finding]:
    for tree_id, tree in draft.trees.items():
        for name, step in tree.steps.items():
            for hazard in hazards_of(draft, step):
                if not cautions_for(draft, (hazard,)):
                    what = f'no caution answers the hazard "{hazard}"'
                    mend = "Write one in tables/cautions.yaml."
                    yield Finding("hazard-unanswered", tree_path(tree_id), ("steps", name), what, mend)
    for name, remedy in draft.remedies.items():
        answered = {
            hazard for each in remedy.cautions if each in draft.cautions for hazard in draft.cautions[each].answers
        }
        for number, work in enumerate(remedy.steps):
            for hazard in hazards_of(draft, work):
                if hazard not in answered:
                    what = f'this step brings the hazard "{hazard}", and no caution of the remedy answers it'
                    known = cautions_for(draft, (hazard,))
                    mend = (
                        f'Add "{known[0]}" to its cautions.'
                        if known
                        else "Write one in tables/cautions.yaml, and name it here."
                    )
                    yield Finding("hazard-unanswered", remedy_path(name), ("steps", number), what, mend)


def _signals(draft: Draft) -> Iterator[Finding]:
    for name, caution in draft.cautions.items():
        for hazard in caution.answers:
            least = draft.hazards[hazard].least_signal if hazard in draft.hazards else caution.signal
            if MILDEST_FIRST.index(caution.signal) < MILDEST_FIRST.index(least):
                what = f'signal "{caution.signal}" is milder than "{least}", which "{hazard}" asks for'
                yield Finding("signal-too-mild", table_path("cautions"), (name, "signal"), what, f'Write "{least}".')


def _gates(draft: Draft) -> Iterator[Finding]:
    for name, gate in draft.gates.items():
        if ("time-limit" in gate.ends_when) != (gate.minutes is not None):
            what = "time-limit stands without minutes" if gate.minutes is None else "minutes stand without time-limit"
            yield Finding("gate-without-limit", table_path("gates"), (name,), what, "Give both or neither.")


def _make_safe(draft: Draft) -> Iterator[Finding]:
    """See that what is offered to whoever was called down sends nobody out again: no gate is asked there."""
    name = draft.settings.make_safe
    for number, work in enumerate(draft.remedies[name].steps if name in draft.remedies else (), start=1):
        if outside := sorted(str(each) for each in needs(work) if each is not Where.INSIDE):
            what = f'"{name}" is for whoever was just called down, and step {number} of its work needs "{outside[0]}"'
            mend = "Name a remedy whose work is all done inside, without dangerous acts."
            yield Finding("make-safe-outside", table_path("settings"), ("make-safe",), what, mend)
            return


def _term(draft: Draft, name: str, remedy: Remedy) -> Iterator[Finding]:
    path = remedy_path(name)
    if remedy.lasts != "stopgap":
        for key, given in (("stands-months", remedy.stands_months), ("followed-by", remedy.followed_by)):
            if given:
                what = f'only a stopgap has "{key}"'
                yield Finding("lasting-with-term", path, (key,), what, "Take it out, or call the remedy a stopgap.")
        return
    if remedy.stands_months is None:
        what, mend = 'a stopgap needs "stands-months"', "Say how many months it may stand."
        yield Finding("stopgap-without-term", path, ("lasts",), what, mend)
    if not remedy.followed_by:
        what, mend = 'a stopgap needs "followed-by"', "Name the lasting remedies one of which follows it."
        yield Finding("stopgap-without-term", path, ("lasts",), what, mend)
    for number, follower in enumerate(remedy.followed_by):
        if follower in draft.remedies and draft.remedies[follower].lasts == "stopgap":
            what = f'"{follower}" follows a stopgap and is itself a stopgap'
            keys = ("followed-by", number)
            yield Finding("stopgap-without-term", path, keys, what, "Name a lasting remedy.")
    if {draft.remedies[each].lasts for each in remedy.followed_by if each in draft.remedies} == {"mends-nothing"}:
        what, mend = "nothing that follows this stopgap mends the leak", "Name a lasting remedy too."
        yield Finding("stopgap-without-term", path, ("followed-by",), what, mend)
