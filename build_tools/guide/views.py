"""The views: what each page of the guide shows, as plain data. `pages` makes them, `render` shows them.

Every view holds what its page shows, in the order in which it is shown, with references resolved.
Addresses are relative to the root of the site.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from build_tools.formulas import Formula
from build_tools.model import (
    Action,
    AnyOrder,
    Caution,
    Condition,
    Gate,
    Material,
    Measure,
    Question,
    Remedy,
    Source,
    StepBase,
    Term,
    Tree,
    Vocabulary,
    Where,
    step_kind,
)
from build_tools.proof.take_off import asked, settled, sources_of
from build_tools.proof.weighing import Weighed


@dataclass(frozen=True, slots=True)
class ExitView:
    """One answer and where it leads."""

    answer: str
    words: str
    target: str
    number: int
    """The printed number of the step it leads to."""
    line: str
    """The line that tells it apart wherever it is drawn: "yes", "no" or "unsure", or a verdict's by its order."""


@dataclass(frozen=True, slots=True)
class CautionView:
    """A caution with its id."""

    id: str
    caution: Caution


@dataclass(frozen=True, slots=True)
class ConditionsView:
    """Conditions of a gate that must hold on the same roof."""

    roof: str
    """The roof by id; empty where they must hold on every roof that the gate is for."""
    words: str
    conditions: tuple[Condition, ...]


@dataclass(frozen=True, slots=True)
class PickView:
    """A gate that a joined gate picks where the roof is this one."""

    roof: str
    words: str
    id: str
    gate: Gate


@dataclass(frozen=True, slots=True)
class GateView:
    """A gate with its id and its cautions in full."""

    id: str
    gate: Gate
    cautions: tuple[CautionView, ...]
    groups: tuple[ConditionsView, ...]
    """What must hold on every roof first, then what must hold on each roof only."""
    picks: tuple[PickView, ...] = ()
    """Of a joined gate: the gates that it joins, by roof."""
    closed: tuple[str, ...] = ()
    """Of a joined gate, in words: the roofs that no gate is for."""


@dataclass(frozen=True, slots=True)
class WorkView:
    """One step of a remedy's work: an action with the cautions first needed there, or a gate."""

    number: int
    action: Action | None
    gate: GateView | None
    cautions: tuple[CautionView, ...]


@dataclass(frozen=True, slots=True)
class RemedyView:
    """A remedy with everything it refers to."""

    id: str
    remedy: Remedy
    work: tuple[WorkView, ...]
    cautions: tuple[CautionView, ...]
    followed_by: tuple[tuple[str, str], ...]
    """Id and title of each lasting remedy that follows a stopgap."""
    failed_title: str
    """The title of the tree where to go on after a failed proof."""
    failed_address: str
    sources: tuple[tuple[str, Source], ...]
    reached_from: tuple[tuple[str, str], ...]
    """Id and title of each tree that can end here."""
    coverings: tuple[str, ...]
    lights: tuple[str, ...]
    """In words; empty where any will do."""
    take_off: Formula
    """The formula that takes materials off."""

    @property
    def address(self) -> str:
        """Its page."""
        return f"remedies/{self.id}.html"

    @property
    def asked(self) -> Formula | None:
        """The formula that takes its materials off, with the inputs that it asks for; None where words say it all."""
        return asked(self.remedy, self.take_off)

    @property
    def to_buy(self) -> tuple[tuple[Material, Mapping[str, str | float]], ...]:
        """Each material with the inputs that it settles itself; none where its quantity stands in words only."""
        return tuple((each, settled(each.take_off) if each.take_off else {}) for each in self.remedy.materials)

    @property
    def reckoned_with(self) -> str:
        """The fingerprint of the formula, to tell whether it has changed since a list was made."""
        return self.take_off.fingerprint()

    @property
    def taken_from(self) -> tuple[str, ...]:
        """Ids of all that its list to buy rests on."""
        return sources_of(self.remedy, self.take_off)


@dataclass(frozen=True, slots=True)
class StepView:
    """A step of a tree as it is shown, walked and printed."""

    id: str
    number: int
    step: StepBase
    title: str
    """The question, or the title of the gate, remedy or tree."""
    where: Where | None
    exits: tuple[ExitView, ...]
    alike: tuple[str, ...]
    """Why answers lead one way, a line each."""
    cautions: tuple[CautionView, ...]
    """In full before the step: hazards of its own and of its acts, and of a place no gate opens."""
    standing: tuple[CautionView, ...]
    """Given in full at the gate that opens its place; a reminder stands here."""
    reached_from: tuple[tuple[int, str, str], ...]
    """Number, id and answer of each step that leads here."""
    guards: tuple[str, ...]
    """Gate steps of this tree, one of which opens what this step needs, nearest first."""
    sources: tuple[tuple[str, Source], ...]
    left: int
    """How many more times a walk from here can ask, in this tree, at most."""
    ends: tuple[str, ...]
    """Ids of the remedies that can still be reached, through other trees too."""
    gate: GateView | None = None
    formula: Formula | None = None
    remedy: RemedyView | None = None
    hand_over: tuple[str, str, str] | None = None
    """Tree id, step id and title of the tree it hands over to."""
    before_going_up: GoingUp | None = None

    @property
    def kind(self) -> str:
        """The kind of step, as the format names it."""
        return step_kind(self.step)


@dataclass(frozen=True, slots=True)
class GoingUp:
    """All that the ways beyond a gate could want looked at and carried, so that there is one climb."""

    look: tuple[tuple[str, str], ...]
    """Id and question of each step up there."""
    carry: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PartView:
    """A run of steps with its title, one diagram and one run of paper."""

    id: str
    title: str
    steps: tuple[StepView, ...]


@dataclass(frozen=True, slots=True)
class MethodView:
    """A formula that a report was reckoned with, in words, and where it was published."""

    title: str
    formula: str
    source: str


@dataclass(frozen=True, slots=True)
class RunView:
    """A run of checks that could be made in any order, weighed."""

    run: AnyOrder
    steps: tuple[StepView, ...]
    """As they stand."""
    weighed: Weighed | None
    """None where a step says no minutes."""
    left_because: str
    """Why the author leaves a run that could be cheaper; empty where nothing is waived."""


@dataclass(frozen=True, slots=True)
class OrderView:
    """The report on the order of a tree's checks, for its author."""

    runs: tuple[RunView, ...]
    methods: tuple[MethodView, ...]
    """What they were reckoned with."""


@dataclass(frozen=True, slots=True)
class TreeView:
    """A tree as a walk, an overview, diagrams and a checklist."""

    id: str
    tree: Tree
    steps: tuple[StepView, ...]
    """In walk order: every exit leads to a later step."""
    parts: tuple[PartView, ...]
    ways: int
    longest: int
    order: OrderView | None
    """None where it declares no run of checks."""

    def step(self, step_id: str) -> StepView:
        """Give a step by its id."""
        return next(each for each in self.steps if each.id == step_id)

    @property
    def asks(self) -> int:
        """How many questions and measures it has."""
        return sum(isinstance(each.step, Question | Measure) for each in self.steps)


@dataclass(frozen=True, slots=True)
class GuideView:
    """The whole guide, ready to be shown."""

    trees: tuple[TreeView, ...]
    remedies: tuple[RemedyView, ...]
    terms: tuple[tuple[str, Term], ...]
    sources: tuple[tuple[str, Source], ...]
    cautions: tuple[CautionView, ...]
    gates: tuple[GateView, ...]
    first_tree: TreeView
    make_safe: RemedyView
    formulas: Mapping[str, Formula]
    vocabulary: Vocabulary
    revised: date
    """The day of the latest change in any tree."""

    def trees_that_begin_with(self, what: str | None) -> tuple[TreeView, ...]:
        """Give the trees to which a sign, a part or a decision brings the reader; None: those before all these."""
        return tuple(each for each in self.trees if each.tree.begins_with == what)

    def remedy(self, remedy_id: str) -> RemedyView:
        """Give a remedy by its id."""
        return next(each for each in self.remedies if each.id == remedy_id)
