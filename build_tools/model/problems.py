"""Problems as data: where, which rule, what is wrong, how to mend it. How they look is `report`'s affair.

`RULES` is the one table of codes, severities and meanings; the rules page of the guide is made from it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Literal

Severity = Literal["error", "warning"]
KeyPath = tuple[str | int, ...]
"""The keys that lead to a value in a file: ("steps", "after-rain", "exits", "yes")."""


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A spot in a source file; line and column count from 1."""

    path: str
    line: int
    column: int


@dataclass(frozen=True, slots=True)
class Rule:
    """What a code means, and whether breaking it stops the build."""

    severity: Severity
    says: str
    proves: bool = False
    """Whether it holds the guide to a case or reading: what could be waived there, nobody would see."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One broken rule at one place."""

    place: Place
    code: str
    what: str
    """What was found and what was expected, as one sentence."""
    mend: str
    """What to do about it."""

    @property
    def severity(self) -> Severity:
        """The severity that the table gives this code."""
        return RULES[self.code].severity


@dataclass(frozen=True, slots=True)
class Finding:
    """A broken rule at a value of a record, before it is placed in its file."""

    code: str
    path: str
    keys: KeyPath
    what: str
    mend: str | Callable[[], str]
    """Worked out only when it is told where that takes a search, such as for a name that is near."""


def nearest(word: str, known: Iterable[str]) -> str:
    """Give the known word that a misspelt one most likely stands for; empty where none is near."""
    return next(iter(get_close_matches(word, list(known), n=1, cutoff=0.7)), "")


def did_you_mean(word: str, known: Iterable[str], otherwise: str) -> str:
    """Give "Did you mean …?" when a known word is near, else the other advice."""
    near = nearest(word, known)
    return f'Did you mean "{near}"? {otherwise}'.strip() if near else otherwise


def in_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Sort by path, line and column, without repeats."""
    return tuple(sorted(set(problems), key=lambda each: (each.place, each.code, each.what)))


def has_errors(problems: Iterable[Problem]) -> bool:
    """Tell whether any of the problems stops the build."""
    return any(each.severity == "error" for each in problems)


def first_errors(problems: Iterable[Problem]) -> Mapping[str, Problem]:
    """Give the first error of each file that has one, by its path."""
    first: dict[str, Problem] = {}
    for each in in_order(problems):
        if each.severity == "error":
            first.setdefault(each.place.path, each)
    return first


def _error(says: str) -> Rule:
    return Rule("error", says)


def _warning(says: str) -> Rule:
    return Rule("warning", says)


def _proof(says: str) -> Rule:
    return Rule("warning", says, proves=True)


RULES: Mapping[str, Rule] = {
    # Shape of the text
    "not-text": _error("A source file is UTF-8 text, one file at most a megabyte."),
    "not-plain": _error("Under trees/ and guide/ stand files and folders: no links, pipes or devices."),
    "hidden-letter": _error("Every letter can be seen: none is a control, turns the text round or has no width."),
    "not-yaml": _error("The file must be YAML, and what stands between brackets must be whole."),
    "too-deep-nesting": _error("Values nest at most 12 deep."),
    "too-many-values": _error("A file holds at most 50,000 values."),
    "too-many-problems": _error("Of one file at most 100 errors are told at once."),
    "anchor": _error("Anchors and aliases are refused: what is shared has an id."),
    "tag": _error("Tags are refused: the model says what kind a value is."),
    "merge-key": _error("Merge keys are refused: what is shared has an id."),
    "key-not-text": _error("Every key is a word."),
    "duplicate-key": _error("A key, and so an id, stands once."),
    "swallowed-text": _warning("Text after ` #` is a comment and would be lost without a word."),
    "unexpected-file": _error("Each folder under trees/ holds only its own kind of file, named by an id."),
    "missing-file": _error("The guide has trees/tables/settings.yaml, and every table that a formula reckons with."),
    # Shape of the records
    "unknown-key": _error("Only keys that the format knows are allowed."),
    "missing-key": _error("Every key that the format needs is there."),
    "wrong-value": _error("A value is of the kind, pattern and range that its key asks for."),
    "blank-left": _error("Every blank that `new` left is filled."),
    "unknown-step-kind": _error("A step is a question, measure, gate, remedy or go-to."),
    "old-form": _error("A tree is in the form of now: answers as blocks, and steps under the headings of their parts."),
    "answer-way": _error(
        "An answer leads to one step, or goes the way of another and says why; a step is named by one answer only."
    ),
    "unknown-exit": _error("A measure has the verdicts of its formula, and no other."),
    "missing-exit": _error("Every verdict of a measure's formula has a way."),
    # References
    "unknown-step": _error("An exit leads to a step of the same tree."),
    "unknown-tree": _error("go-to and after-failed-proof name a tree, or a tree and a step of it."),
    "unknown-remedy": _error("A remedy is named by its file in remedies/."),
    "unknown-caution": _error("A caution is named by its id in tables/cautions.yaml."),
    "unknown-gate": _error("A gate is named by its id in tables/gates.yaml."),
    "unknown-hazard": _error("A hazard is named by its id in tables/hazards.yaml."),
    "unknown-source": _error("A source is named by its id in tables/sources.yaml."),
    "unknown-term": _error("A [[term]] is named by its id in tables/terms.yaml."),
    "unknown-formula": _error("A formula is named by its id."),
    "unknown-input": _error("`given` and `take-off` hold values that the formula accepts, by names that it has."),
    "unknown-run": _error("A material is taken off along one of the runs of the formula take-off."),
    "unknown-drawing": _error("A drawing is a file in guide/drawings/."),
    "live-drawing": _error("A drawing in guide/ only shows: it holds no script, handler, link or outside address."),
    "drawing-number": _error("Each number in a drawing says where it comes from, and is what is given there."),
    "bare-drawing": _error("A drawing in guide/ gives its size as a viewBox, and says in a title what it shows."),
    "unknown-fact": _error("Coverings and kinds of light are those of tables/vocabulary.yaml."),
    # Graph
    "unreachable-step": _error("Every step can be reached from the start."),
    "dead-end": _error("Every step reaches a remedy."),
    "circle": _error("No walk comes back to a step, within a tree or through others."),
    "not-a-run": _error("Steps under any-order lead straight from one to the next, and their chances add up."),
    "asked-twice": _error("No question stands twice on one way, across trees too."),
    "too-deep": _error("No way through one tree is longer than 13 questions, measures and gates."),
    # Safety
    "ungated": _error("Every place and act that a gate opens is reached only through that gate's yes."),
    "refused-leads-up": _error("After a gate's no or unsure, nothing that it opens is reached."),
    "two-hands-on-a-ladder": _error(
        "On a ladder a question only looks or touches; work there, and only there, says with `one-hand` how it is done."
    ),
    "hazard-unanswered": _error("Every hazard of a step is answered by a caution; of a remedy, by one of its own."),
    "signal-too-mild": _error("A caution's signal word is at least what its hazards ask for."),
    "gate-without-limit": _error("A gate states minutes exactly when a time limit ends it."),
    "stopgap-without-term": _error("A stopgap states the months it may stand and the lasting remedy that follows."),
    "lasting-with-term": _error("Only a stopgap has stands-months and followed-by."),
    "make-safe-outside": _error("What `make-safe` names is done inside only: no gate stands before it."),
    "gate-does-not-fit": _error(
        "A gate to the roof fits every covering and light that can reach it: a slope, a flat roof, or both."
    ),
    "does-not-suit": _error("A remedy suits the covering and light that its way has established."),
    "assumes-too-much": _error("A walk is handed over to a tree only where what that tree assumes is established."),
    # Good sense
    "effort-falls": _warning("After lifting or stripping, nothing cheaper is asked."),
    "outside-first": _warning("What is seen inside and from the ground is asked before anybody goes up."),
    "order": _warning(
        "A run that may be asked in any order is asked in the cheapest, where that saves a tenth or more."
    ),
    "deep": _warning("A way longer than 10 questions, measures and gates tires people."),
    "question-form": _warning("A question asks one thing, plainly, in under 90 letters, and ends in a question mark."),
    "long-sentence": _warning("A sentence has at most 25 words."),
    "hard-reading": _warning("A passage reads easily: a reading age of 14 or less."),
    "part-too-large": _warning("A part has at most 9 questions and measures, so that its diagram can be read."),
    "unsourced-number": _warning("A number with a unit, or a chance, names its source or is marked common practice."),
    "source-mark": _warning("A source that was seen or reported says where, and no other claims an address."),
    "no-cleaning": _warning("A remedy with a gutter says how it is reached and cleaned, and how often."),
    "orphan-remedy": _warning("Every remedy is the end of some walk."),
    # Content, held to what was reasoned and read by hand
    "case-elsewhere": _proof("A stated case is asked what it answers, and ends in the remedy that it states."),
    "case-figures": _proof("What a stated case types at a measure gives the verdict that it answers there."),
    "case-unsaid": _proof("The remedy of a stated case says what the case asks for, in that order."),
    "reading-astray": _proof("What a reading quotes stands in one step of a remedy, and no exception is idle."),
    "hazard-unread": _proof("The reading of a remedy names every hazard of its work, and each caution answers one."),
    "hazard-undeclared": _proof("A step declares each hazard that its reading names, or that its words bring."),
    "room-not-cleared": _proof("The room below is cleared before anybody moves the glass above it, or tries it."),
    "pane-tried": _proof("A pane is looked at and stopped before it is tried by hand, and never pushed uphill."),
    "number-unanchored": _proof("A number with a unit is one that was published, with its source named beside it."),
    "anchor-astray": _proof("A published number is stated somewhere, with the label and numbers of its source."),
    "idle-accept": _warning("A waiver names a rule that would otherwise speak here."),
    "version-not-raised": _warning("A tree whose words, or whose remedies', changed has a new version."),
}
