"""Rules of panes: one is looked at, stopped at its foot, and then tried by hand, downhill and sideways only.

A bare pane may lie on glue that has let go: pushed, it slides on to whoever stands below. What is read as a try, a
stop and a look stands in `pane-words`. Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

import networkx as nx

from build_tools.model import Act, Action, PaneWords, Where
from build_tools.model.problems import Finding, KeyPath, Problem, did_you_mean
from build_tools.proof.graph import Graph, Node, forest_nodes, hazards_of, place_of, rooted_forest, step_at
from build_tools.proof.reading import sentences
from build_tools.proof.rules.sense import passages
from build_tools.sources.library import Draft, proof_path, remedy_path
from build_tools.sources.source import SourceFile
from build_tools.sources.term_links import plain_words

WORDS = "pane-words"


class Care(NamedTuple):
    """What was done with a pane up to here, on one way."""

    looked: bool = False
    stopped: bool = False


Said = tuple[KeyPath, str]
"""A text, with the keys that lead to it."""


def panes(draft: Draft) -> Iterator[Finding]:
    """Find each step that tries a pane too early on some way to it, or up the slope, or over a room in use."""
    words: PaneWords | None = draft.proofs.get(WORDS)
    if words is None:
        return
    if words.heavy not in draft.hazards:
        mend = did_you_mean(words.heavy, draft.hazards, "Correct the name.")
        yield Finding("reading-astray", proof_path(WORDS), ("heavy",), f'"{words.heavy}" is not a hazard', mend)
    for name in draft.remedies:
        yield from _over_a_room(draft, words, name)
    forest = rooted_forest(draft)
    texts = {node: _texts(draft, node) for node in forest_nodes(draft)}
    trying = [node for node, said in texts.items() if any(_any(words.tries, text) for _, text in said)]
    for node, before in _care_before(words, forest, texts, trying).items():
        path, keys = place_of(node)
        told: dict[tuple[KeyPath, str], Finding] = {}
        for care in sorted(before):
            for inner, text in texts[node]:
                found, care = tried(words, text, care)
                for what, mend in found:
                    told.setdefault((inner, what), Finding("pane-tried", path, (*keys, *inner), what, mend))
        yield from told.values()


def pane_chapter(chapter: SourceFile, draft: Draft) -> Iterator[Problem]:
    """Find in a chapter where it tries a pane too early, or up the slope."""
    words: PaneWords | None = draft.proofs.get(WORDS)
    if words is None or not _any(words.tries, " ".join(chapter.text.split())):
        return
    care, at = Care(), 0
    for sentence in sentences(chapter.text):
        at = chapter.text.index(sentence, at)
        found, care = tried(words, sentence, care)
        yield from (Problem(chapter.place(at), "pane-tried", what, mend) for what, mend in found)


def tried(words: PaneWords, text: str, care: Care) -> tuple[list[tuple[str, str]], Care]:
    """Read a text sentence by sentence: what is wrong with each try in it, and what is done with the pane after it."""
    found: list[tuple[str, str]] = []
    for sentence in sentences(text):
        said = " ".join(plain_words(sentence).split())
        if _any(words.forbids, said):
            continue
        if _any(words.tries, said):
            short = " ".join(said.split()[:8])
            if not care.looked:
                found.append((f'a pane is tried that was not looked at first: "{short} …"', "Look before it."))
            if not care.stopped:
                found.append((f'a pane is tried that nothing stops: "{short} …"', "Look, then stop it at its foot."))
            if _any(words.up, said) or not _any(words.down, said):
                mend = "Say that it is tried downhill and sideways only."
                found.append((f'a pane may be pushed up the slope: "{short} …"', mend))
        looked = care.looked or _any(words.looks, said)
        care = Care(looked, care.stopped or (looked and _any(words.stops, said)))
    return found, care


def _any(patterns: Iterable[re.Pattern[str]], text: str) -> bool:
    return any(each.search(text) for each in patterns)


def _texts(draft: Draft, node: Node) -> list[Said]:
    """Give what is done at a step, in its order; the reason for a way tells of nothing that is done there."""
    step = step_at(draft, node)
    if isinstance(step, Action):
        return [(("do",), step.do), *(((("right",), step.right),) if step.right else ())]
    return [] if node.home.startswith("remedies/") else [each for each in passages(step) if each[0][0] != "since"]


def _care_before(
    words: PaneWords, forest: Graph, texts: Mapping[Node, list[Said]], trying: Iterable[Node]
) -> Mapping[Node, frozenset[Care]]:
    """Give what may have been done with a pane on the ways to each step that tries one; the ways have no cycle."""
    wanted, waiting = set(trying), list(trying)
    while waiting:
        fresh = [each for each in forest.pred[waiting.pop()] if each not in wanted]
        wanted.update(fresh)
        waiting += fresh
    after: dict[Node, frozenset[Care]] = {}
    before: dict[Node, frozenset[Care]] = {}
    for node in nx.topological_sort(forest.subgraph(wanted)):
        held = frozenset[Care]().union(*(after[tail] for tail in forest.pred[node])) or frozenset((Care(),))
        before[node], after[node] = held, frozenset(_care_after(words, texts.get(node, ()), care) for care in held)
    return {node: before[node] for node in trying}


def _care_after(words: PaneWords, said: Iterable[Said], care: Care) -> Care:
    for _, text in said:
        if care.stopped:
            return care
        _, care = tried(words, text, care)
    return care


def _over_a_room(draft: Draft, words: PaneWords, name: str) -> Iterator[Finding]:
    """Find the steps up there that move glass, or try whether it moves, before the room below was cleared."""
    for number, step in enumerate(draft.remedies[name].steps):
        if not isinstance(step, Action):
            continue
        inside = step.where is Where.INSIDE
        if inside and _any(words.clears, step.do):
            return
        if Act.LIFT_GLASS in step.acts or (not inside and words.heavy in hazards_of(draft, step)):
            what = "this step moves glass, or tries it, over a room that was not cleared"
            mend = "Add a step inside before it that empties the room below."
            yield Finding("room-not-cleared", remedy_path(name), ("steps", number), what, mend)
