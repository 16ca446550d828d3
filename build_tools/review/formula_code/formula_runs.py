"""The formulas of a version, run: each version's own code, in a process of its own, with nothing of ours in it.

Code is run here. Whoever reviews a stranger's change does so where they would run `check` on it too.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, ConfigDict, FiniteFloat, PositiveInt, ValidationError

RUNNER = Path(__file__).with_name("formula_runner.py")
MOST_SECONDS = 20
"""Of the processor, for all that is tried of one version; a tenth of it is usual, on a busy machine too."""
MOST_WAITED = 300
"""Seconds by the clock, for code that waits and does not reckon."""
OUT_OF_TIME = getattr(signal, "SIGXCPU", 0)
"""What ends a process that has used up its time, where the system can limit that."""
LONGEST_REASON = 200
NO_ANSWER = "they gave what is no answer"
Words = Annotated[str, AfterValidator(lambda said: " ".join(said.split()))]
"""What anybody's code says: kept on one line, so that none of it stands in a review as a line of its own."""
Tries = Mapping[str, Sequence[Mapping[str, Any]]]
"""By formula, the sets of inputs to try; an input that is not in a set is left out."""


class _Told(BaseModel):
    model_config = ConfigDict(frozen=True)


class InputTold(_Told):
    """An input of a formula, as a version describes it."""

    name: Words
    label: Words
    unit: Words
    low: FiniteFloat
    high: FiniteFloat
    default: Any
    optional: bool
    choices: tuple[Words, ...]
    whole: bool
    columns: tuple[InputTold, ...]
    """Of a list: what each line holds."""


class OutputTold(_Told):
    """An output of a formula, as a version describes it."""

    name: Words
    label: Words
    unit: Words


class FormulaTold(_Told):
    """A formula, as a version describes it."""

    title: Words
    inputs: tuple[InputTold, ...]
    outputs: tuple[OutputTold, ...]
    verdicts: Mapping[Words, Words]
    example: Mapping[str, Any]
    path: Words
    line: PositiveInt
    """Where its function stands."""


class Result(_Told):
    """What a formula gives for one set of inputs, or why it refuses it."""

    outputs: Mapping[Words, float | None] = {}
    verdict: Words | None = None
    refused: Words = ""


class Answer(_Told):
    """All that one version said."""

    formulas: Mapping[str, FormulaTold]
    results: Mapping[str, tuple[Result, ...]]


class CannotRun(Exception):
    """The formulas of a version could not be run; the message says why, in a few words."""


def run(root: Path, tries: Tries) -> Answer:
    """Describe the formulas of a project folder, and run those that are named. Raises CannotRun."""
    command = [sys.executable, "-I", "-B", str(RUNNER), str(root.resolve()), str(MOST_SECONDS)]
    # Nothing of the environment is passed on: a code host keeps its keys there.
    environment = {name: os.environ[name] for name in ("SYSTEMROOT",) if name in os.environ}
    try:
        done = subprocess.run(
            command,
            input=json.dumps(tries),
            capture_output=True,
            text=True,
            timeout=MOST_WAITED,
            cwd=root,
            env=environment,
        )
    except subprocess.TimeoutExpired:
        raise CannotRun(f"they were not done in {MOST_WAITED} seconds") from None
    if done.returncode != 0:
        used_up = f"they used more than {MOST_SECONDS} seconds of the processor"
        raise CannotRun(used_up if done.returncode == -OUT_OF_TIME else _reason(done.stderr, root))
    try:
        answer = Answer.model_validate_json(done.stdout)
    except ValidationError:
        raise CannotRun(NO_ANSWER) from None
    if any(len(answer.results.get(name, ())) != len(sets) for name, sets in tries.items()):
        raise CannotRun(NO_ANSWER)
    return answer


def _reason(said: str, root: Path) -> str:
    """Take the last line that Python wrote, which names the error, without the folder."""
    lines = [each.strip() for each in said.splitlines() if each.strip()]
    return lines[-1].replace(f"{root.resolve()}{os.sep}", "")[:LONGEST_REASON] if lines else "they gave no reason"
