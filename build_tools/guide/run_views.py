"""Runs of checks, weighed, to the report that their author reads on the tree's page."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator, Mapping, Sequence

from build_tools.formulas.docstrings import section
from build_tools.guide.views import MethodView, OrderView, RunView, StepView
from build_tools.model import AnyOrder, Tree
from build_tools.proof.asking import after_a_miss, asked_first_minutes
from build_tools.proof.order import average_minutes, best_order
from build_tools.proof.weighing import weigh


def order_view(tree: Tree, steps: Sequence[StepView]) -> OrderView | None:
    """Weigh every run of a proved tree, beside its steps as they are shown; None where it declares no run."""
    by_id = {each.id: each for each in steps}
    runs = tuple(_run_view(tree, run, by_id) for run in tree.any_order)
    return OrderView(runs, tuple(_methods(runs))) if runs else None


def _run_view(tree: Tree, run: AnyOrder, steps: Mapping[str, StepView]) -> RunView:
    reason = run.accept.get("order") or tree.accept.get("order", "")
    return RunView(run, tuple(steps[name] for name in run.steps), weigh(tree, run), reason)


def _methods(runs: Sequence[RunView]) -> Iterator[MethodView]:
    """Give what was reckoned with, as the formulas themselves state it."""
    weighed = [each.weighed for each in runs if each.weighed]
    if weighed:
        yield _method("What a run takes", average_minutes)
        yield _method("The cheapest order", best_order)
    if any(each.asked for each in weighed):
        yield _method("A question put first", asked_first_minutes)
    if any(each.unfound for each in weighed):
        yield _method("After a look that found nothing", after_a_miss)


def _method(title: str, function: Callable[..., object]) -> MethodView:
    """Take a formula and its source from the docstring, where it stands after the first sentence."""
    formula = (inspect.getdoc(function) or "").split("\n\n")[1]
    return MethodView(title, " ".join(formula.split()), " ".join(section(function, "Source")))
