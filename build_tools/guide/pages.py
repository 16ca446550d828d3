"""A checked guide to its views: plain data, no HTML, no MkDocs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import networkx as nx

from build_tools.guide.answer_views import alike_words, exit_views
from build_tools.guide.gate_views import caution_views, gate_view
from build_tools.guide.run_views import order_view
from build_tools.guide.views import (
    CautionView,
    GoingUp,
    GuideView,
    PartView,
    RemedyView,
    StepView,
    TreeView,
    WorkView,
)
from build_tools.model import (
    GUARDED,
    UP,
    Action,
    GateStep,
    GoTo,
    Looked,
    Measure,
    Question,
    Remedy,
    RemedyStep,
    Source,
    StepBase,
    Tree,
    WorkGate,
)
from build_tools.proof.checks import CheckedGuide
from build_tools.proof.counting import asked_in, ends_from, in_walk_order, longest_from, ways_from
from build_tools.proof.graph import (
    ROOT,
    Graph,
    Node,
    cautions_for,
    forest_nodes,
    gates_of,
    hazards_of,
    needs,
    rooted_forest,
    step_at,
    target_node,
    tree_graph,
)
from build_tools.proof.guards import on_every_way
from build_tools.proof.take_off import TAKE_OFF
from build_tools.sources.library import Draft

IN_PASSING_MONTHS = 6
"""A stopgap that may stand for longer than a winter is ordered work, and is not done while somebody is up there."""


def guide_view(guide: CheckedGuide) -> GuideView:
    """Turn a checked guide into its pages."""
    draft = guide.draft
    remedies = {name: _remedy_view(draft, name, remedy) for name, remedy in draft.remedies.items()}
    forest = rooted_forest(draft)
    ends = ends_from(forest, {node for node in forest_nodes(draft) if isinstance(step_at(draft, node), RemedyStep)})
    told = on_every_way(forest, ROOT, {node: draft.gates[gate].cautions for node, gate in gates_of(draft).items()})
    trees = tuple(_tree_view(draft, name, tree, remedies, ends, told) for name, tree in draft.trees.items())
    return GuideView(
        trees=tuple(sorted(trees, key=lambda each: (each.id != draft.settings.first_tree, each.tree.title))),
        remedies=tuple(sorted(remedies.values(), key=lambda each: each.remedy.title)),
        terms=tuple(sorted(draft.terms.items(), key=lambda each: each[1].term.lower())),
        sources=tuple(sorted(draft.sources.items(), key=lambda each: each[1].title.lower())),
        cautions=caution_views(draft, draft.cautions),
        gates=tuple(gate_view(draft, name) for name in draft.gates),
        first_tree=next(each for each in trees if each.id == draft.settings.first_tree),
        make_safe=remedies[draft.settings.make_safe],
        formulas=draft.formulas,
        vocabulary=draft.vocabulary,
        revised=max(tree.revised for tree in draft.trees.values()),
    )


def _sources(draft: Draft, names: Iterable[str]) -> tuple[tuple[str, Source], ...]:
    return tuple((name, draft.sources[name]) for name in names)


def _remedy_view(draft: Draft, name: str, remedy: Remedy) -> RemedyView:
    failed = target_node(draft.trees, remedy.after_failed_proof)
    assert failed is not None  # references() proved it
    vocabulary = draft.vocabulary
    return RemedyView(
        id=name,
        remedy=remedy,
        work=tuple(_work(draft, remedy)),
        cautions=caution_views(draft, remedy.cautions),
        followed_by=tuple((each, draft.remedies[each].title) for each in remedy.followed_by),
        failed_title=draft.trees[failed.home].title,
        failed_address=f"walk/{failed.home}.html#{failed.step}",
        sources=_sources(draft, remedy.sources),
        reached_from=tuple((tree_id, tree.title) for tree_id, tree in draft.trees.items() if _ends_in(tree, name)),
        coverings=tuple(vocabulary.covering[each] for each in remedy.suits.covering if each != "any"),
        lights=tuple(vocabulary.light[each] for each in remedy.suits.light if each != "any"),
        take_off=draft.formulas[TAKE_OFF],
    )


def _ends_in(tree: Tree, remedy_id: str) -> bool:
    return any(isinstance(step, RemedyStep) and step.remedy == remedy_id for step in tree.steps.values())


def _work(draft: Draft, remedy: Remedy) -> Iterable[WorkView]:
    """Put each caution of the remedy before the first step that brings its hazard."""
    shown: set[str] = set()
    for number, work in enumerate(remedy.steps, start=1):
        if isinstance(work, WorkGate):
            gate = gate_view(draft, work.gate)
            shown.update(each.id for each in gate.cautions)
            yield WorkView(number, None, gate, ())
            continue
        wanted = set(cautions_for(draft, hazards_of(draft, work))) & set(remedy.cautions) - shown
        shown.update(wanted)
        yield WorkView(number, work, None, caution_views(draft, _in_table_order(draft, wanted)))


def _in_table_order(draft: Draft, names: set[str]) -> tuple[str, ...]:
    """Give cautions in the order of their table."""
    return tuple(name for name in draft.cautions if name in names)


def _tree_view(
    draft: Draft,
    tree_id: str,
    tree: Tree,
    remedies: Mapping[str, RemedyView],
    ends: Mapping[Node, frozenset[Node]],
    told: Mapping[Node, frozenset[str]],
) -> TreeView:
    graph = tree_graph(tree_id, tree)
    order = in_walk_order(graph)
    number = {node.step: count for count, node in enumerate(order, start=1)}
    weight = asked_in(graph, tree)
    longest = longest_from(graph, weight)
    steps = tuple(
        _step_view(draft, graph, node, number, remedies, longest[node] - weight[node], ends[node], told[node])
        for node in order
    )
    start = Node(tree_id, tree.starts_at)
    order_of_checks = order_view(tree, steps)
    return TreeView(tree_id, tree, steps, _parts(tree, steps), ways_from(graph)[start], longest[start], order_of_checks)


def _parts(tree: Tree, steps: tuple[StepView, ...]) -> tuple[PartView, ...]:
    if not tree.parts:
        return (PartView("all", tree.title, steps),)
    views = (
        PartView(name, title, tuple(each for each in steps if each.step.part == name))
        for name, title in tree.parts.items()
    )
    rest = tuple(each for each in steps if each.step.part is None)
    return tuple(each for each in (*views, PartView("rest", tree.title, rest)) if each.steps)


def _step_view(
    draft: Draft,
    graph: Graph,
    node: Node,
    number: Mapping[str, int],
    remedies: Mapping[str, RemedyView],
    left: int,
    ends: frozenset[Node],
    told: frozenset[str],
) -> StepView:
    step = draft.trees[node.home].steps[node.step]
    guards = _guards(draft, graph, node)
    own, standing = _split_cautions(draft, step, guards, told)
    return StepView(
        id=node.step,
        number=number[node.step],
        step=step,
        title=_title(draft, step),
        where=step.where if isinstance(step, Looked) else None,
        exits=exit_views(draft, step, number),
        alike=alike_words(step),
        cautions=own,
        standing=standing,
        reached_from=tuple(
            sorted((number[tail.step], tail.step, answer) for tail, _, answer in graph.in_edges(node, keys=True))
        ),
        guards=tuple(each.step for each in guards),
        sources=_sources(draft, step.sources if isinstance(step, Looked) else ()),
        left=left,
        ends=_remedy_ids(draft, ends),
        gate=gate_view(draft, step.gate) if isinstance(step, GateStep) else None,
        formula=draft.formulas[step.measure] if isinstance(step, Measure) else None,
        remedy=remedies[step.remedy] if isinstance(step, RemedyStep) else None,
        hand_over=_hand_over(draft, step),
        before_going_up=_going_up(draft, graph, node, step),
    )


def _remedy_ids(draft: Draft, ends: frozenset[Node]) -> tuple[str, ...]:
    steps = (draft.trees[end.home].steps[end.step] for end in ends if end.home in draft.trees)
    return tuple(sorted({step.remedy for step in steps if isinstance(step, RemedyStep)}))


def _title(draft: Draft, step: StepBase) -> str:
    if isinstance(step, GateStep):
        return draft.gates[step.gate].title
    if isinstance(step, RemedyStep):
        return draft.remedies[step.remedy].title
    if isinstance(step, GoTo):
        return draft.trees[step.go_to.partition("/")[0]].title
    assert isinstance(step, Question | Measure)
    return step.question


def _hand_over(draft: Draft, step: StepBase) -> tuple[str, str, str] | None:
    if not isinstance(step, GoTo):
        return None
    head = target_node(draft.trees, step.go_to)
    assert head is not None  # references() proved it
    return head.home, head.step, draft.trees[head.home].title


def _guards(draft: Draft, graph: Graph, node: Node) -> tuple[Node, ...]:
    """Give the gate steps behind this one that open what it needs, the nearest first."""
    wanted = needs(step_at(draft, node)).intersection(GUARDED)
    behind = (tail for _, tail in nx.bfs_edges(graph, node, reverse=True)) if wanted else ()
    return tuple(tail for tail in behind if wanted.intersection(_opened(draft, tail)))


def _opened(draft: Draft, node: Node) -> tuple[object, ...]:
    step = draft.trees[node.home].steps[node.step]
    return draft.gates[step.gate].opens if isinstance(step, GateStep) else ()


def _split_cautions(
    draft: Draft, step: StepBase, guards: tuple[Node, ...], told: frozenset[str]
) -> tuple[tuple[CautionView, ...], tuple[CautionView, ...]]:
    """Part the cautions of a step from those that its gates told, whichever way somebody came to it."""
    wanted = cautions_for(draft, hazards_of(draft, step))
    gates = [draft.trees[each.home].steps[each.step] for each in guards]
    given = {name for gate in gates if isinstance(gate, GateStep) for name in draft.gates[gate.gate].cautions} & told
    own = step.hazards if isinstance(step, Looked) else ()
    standing = [name for name in wanted if name in given and not set(own) & set(draft.cautions[name].answers)]
    return (
        caution_views(draft, [name for name in wanted if name not in standing]),
        caution_views(draft, standing),
    )


def _going_up(draft: Draft, graph: Graph, node: Node, step: StepBase) -> GoingUp | None:
    if not isinstance(step, GateStep) or not set(UP) & set(draft.gates[step.gate].opens):
        return None
    first = Node(node.home, step.exits["yes"])
    reached = nx.descendants(graph, first) | {first}
    beyond = [(each.step, draft.trees[each.home].steps[each.step]) for each in in_walk_order(graph) if each in reached]
    looked = [(name, each) for name, each in beyond if isinstance(each, Looked) and each.where in UP]
    stopgaps = [remedy for _, each in beyond if (remedy := _stopgap_up_there(draft, each))]
    carry = [item for _, each in looked for item in each.carry]
    carry += [item for each in stopgaps for item in (*each.tools, *(material.item for material in each.materials))]
    return GoingUp(tuple((name, _title(draft, each)) for name, each in looked), tuple(dict.fromkeys(carry)))


def _stopgap_up_there(draft: Draft, step: StepBase) -> Remedy | None:
    """Give the stopgap that a step ends in, if it is done up there and so can be done on the same climb."""
    remedy = draft.remedies[step.remedy] if isinstance(step, RemedyStep) else None
    if remedy is None or remedy.stands_months is None or remedy.stands_months > IN_PASSING_MONTHS:
        return None
    return remedy if any(isinstance(each, Action) and each.where in UP for each in remedy.steps) else None
