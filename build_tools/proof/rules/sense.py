"""Rules of good sense: cheap first, inside first, plain words, numbers with their source."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from itertools import islice
from typing import Any

import networkx as nx
from pydantic import BaseModel

from build_tools.model import UP, Effort, Looked, Measure, Question, Remedy, RemedyStep, Tree, Where, every_value
from build_tools.model.problems import Finding, KeyPath
from build_tools.proof.graph import Node, tree_graph
from build_tools.proof.reading import reading_age, sentences, words
from build_tools.sources.library import Draft, remedy_path, table_path, tree_path
from build_tools.sources.term_links import plain_words

MOST_IN_PART = 9
LONGEST_QUESTION = 90
LONGEST_SENTENCE = 25
OLDEST_READER = 14
FEWEST_WORDS = 30
"""Below so many words a reading age says nothing."""
EFFORTS = tuple(Effort)
PLACES_BELOW = (Where.INSIDE, Where.LOFT, Where.GROUND)
NUMBER_WITH_UNIT = re.compile(
    r"(?<![\w,.])\d[\d,.]*\s?(mm|cm|m|m2|kg|mph|m/s|°C?|degrees?|per cent|%|months?|weeks?|years?|litres?|l/min)(?!\w)"
)
DOUBLE_NEGATIVE = re.compile(r"\b(not|no|never|without|un\w+ed)\b.*\b(not|no|never|without)\b", re.I)
TWO_CONDITIONS = re.compile(r"\b(and|and/or)\b|,\s*or\b", re.I)


def sense(draft: Draft) -> Iterator[Finding]:
    """Find what a practised reader would object to."""
    for tree_id, tree in draft.trees.items():
        yield from _order(tree_id, tree)
        yield from _parts(tree_id, tree)
        for name, step in tree.steps.items():
            if isinstance(step, Question | Measure):
                yield from _question(tree_path(tree_id), ("steps", name, "question"), step.question)
    for path, record in _read_records(draft):
        for keys, text in passages(record):
            yield from _passage(path, keys, plain_words(text))
        yield from _numbers(path, record)
    yield from _remedies(draft)
    yield from _sources(draft)


def _order(tree_id: str, tree: Tree) -> Iterator[Finding]:
    """Look along every way at once: what lies behind a step, by walking back from it."""
    graph = tree_graph(tree_id, tree)
    looked = {node: step for node in graph if isinstance(step := tree.steps[node.step], Looked)}
    for node, step in looked.items():
        before = nx.ancestors(graph, node)
        behind = {name.step: each for name, each in looked.items() if name in before and name != node}
        yield from _effort(node, step, behind)
        yield from _outside(node, step, behind)


def _effort(node: Node, step: Looked, behind: Mapping[str, Looked]) -> Iterator[Finding]:
    effort = {name: EFFORTS.index(each.effort) for name, each in behind.items()}
    most = max(effort, key=effort.__getitem__, default="")
    if most and effort[most] >= EFFORTS.index(Effort.LIFT) and EFFORTS.index(step.effort) < effort[most]:
        what = f'"{step.effort}" is asked after "{behind[most].effort}" at "{most}"'
        keys = ("steps", node.step, "effort")
        yield Finding("effort-falls", tree_path(node.home), keys, what, "Ask it before anything is lifted.")


def _outside(node: Node, step: Looked, behind: Mapping[str, Looked]) -> Iterator[Finding]:
    up = next((name for name, each in behind.items() if each.where in UP), "")
    if step.where in PLACES_BELOW and up:
        what = f'"{step.where}" is asked after somebody went up for "{up}"'
        keys = ("steps", node.step, "where")
        yield Finding("outside-first", tree_path(node.home), keys, what, "Ask it before the gate.")


def _parts(tree_id: str, tree: Tree) -> Iterator[Finding]:
    counts = Counter(step.part for step in tree.steps.values() if isinstance(step, Question | Measure))
    for part, count in counts.items():
        if count > MOST_IN_PART:
            named = f'part "{part}"' if part else "the steps without a part"
            keys: KeyPath = ("parts", part) if part and part in tree.parts else ("steps",)
            what = f"{named} has {count} questions and measures; at most {MOST_IN_PART} can be read in one diagram"
            yield Finding("part-too-large", tree_path(tree_id), keys, what, "Split it into parts.")


def _question(path: str, keys: KeyPath, question: str) -> Iterator[Finding]:
    length = len(question)
    faults = (
        (not question.endswith("?"), "does not end in a question mark", "Ask it as a question."),
        (
            length >= LONGEST_QUESTION,
            f"has {length} letters; under {LONGEST_QUESTION} are wanted",
            "Ask it shorter; what to look at goes under `look:`.",
        ),
        (bool(TWO_CONDITIONS.search(question)), "asks two things at once", "Make two steps of it."),
        (bool(DOUBLE_NEGATIVE.search(question)), "denies twice", "Ask for what is there."),
    )
    for found, fault, mend in faults:
        if found:
            yield Finding("question-form", path, keys, f"the question {fault}", mend)


def _read_records(draft: Draft) -> Iterator[tuple[str, Any]]:
    yield from ((tree_path(name), tree) for name, tree in draft.trees.items())
    yield from ((remedy_path(name), remedy) for name, remedy in draft.remedies.items())
    yield table_path("cautions"), draft.cautions
    yield table_path("gates"), draft.written_gates


def passages(record: Any) -> Iterator[tuple[KeyPath, str]]:
    """Give what a reader reads in a record, passage by passage; ids are one word, and reasons are for authors."""
    for keys, value in every_value(record):
        if type(value) is str and " " in value and "accept" not in keys:
            yield keys, value


def _passage(path: str, keys: KeyPath, text: str) -> Iterator[Finding]:
    for sentence in sentences(text):
        count = len(words(sentence))
        if count > LONGEST_SENTENCE:
            what = f'a sentence has {count} words: "{" ".join(sentence.split()[:6])} …"'
            yield Finding("long-sentence", path, keys, what, "Say it in two.")
    if len(words(text)) >= FEWEST_WORDS and reading_age(text) > OLDEST_READER:
        what = f"this passage asks for a reading age of {reading_age(text):.0f}"
        yield Finding("hard-reading", path, keys, what, "Use shorter sentences and plainer words.")


def _numbers(path: str, record: Any) -> Iterator[Finding]:
    """Find in each record that could name sources, and names none, the first number that wants one."""
    for keys, value in every_value(record):
        if isinstance(value, BaseModel) and getattr(value, "sources", None) == ():
            yield from islice(_unsourced(path, keys, value), 1)


def _unsourced(path: str, keys: KeyPath, record: BaseModel) -> Iterator[Finding]:
    for inner, text in passages(record):
        if found := NUMBER_WITH_UNIT.search(text):
            what = f'"{found[0]}" stands here without a source'
            mend = "Add `sources:`; a fact of the trade takes common-practice, our own choice project-choice."
            yield Finding("unsourced-number", path, (*keys, *inner), what, mend)


def _remedies(draft: Draft) -> Iterator[Finding]:
    ends = {
        step.remedy for tree in draft.trees.values() for step in tree.steps.values() if isinstance(step, RemedyStep)
    }
    ends |= {follower for remedy in draft.remedies.values() for follower in remedy.followed_by}
    ends.add(draft.settings.make_safe)
    for name, remedy in draft.remedies.items():
        if name not in ends:
            yield Finding("orphan-remedy", remedy_path(name), ("title",), "no walk ends here", "Lead a tree to it.")
        yield from _cleaning(name, remedy)


def _cleaning(name: str, remedy: Remedy) -> Iterator[Finding]:
    if "gutter" in remedy.title.lower() and remedy.cleaning is None:
        what = "a gutter silts up, and no cleaning is given"
        yield Finding(
            "no-cleaning", remedy_path(name), ("title",), what, "Add `cleaning:` with access and every-months."
        )


def _sources(draft: Draft) -> Iterator[Finding]:
    for name, source in draft.sources.items():
        citable = source.seen in ("seen", "reported")
        if citable and source.address is None and source.kind != "practice":
            what = f"it was {source.seen}, and no address says where"
            mend = "Add `address:`, or say `seen: elsewhere` or `seen: memory`."
        elif not citable and source.address:
            what = f"it is marked `{source.seen}`, and gives an address"
            mend = "Take the address out, or say `seen: seen`."
        else:
            continue
        yield Finding("source-mark", table_path("sources"), (name, "seen"), what, mend)
