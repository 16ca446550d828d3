"""Spoils the sources again and again, and looks at what `check` says: no traceback, no hang, every error with a place.

Usage: python tests/mutate.py [--count N] [--seed S] [--processes P] [--whole EVERY]   (make mutate N=… SEED=…)

Each slip follows from the seed and its number, so any of them can be made again: --only NUMBER shows one. Most
are made in the small guide of the tests, with two chapters of the guide; every tenth (--whole) in the guide
itself. Only the spoilt file is read anew, and all rules run. Outcomes are kept in .cache/mutations/, a line each,
so a run that was stopped goes on; the table is printed at the end, and by --count 0 at any time.
"""

from __future__ import annotations

import argparse
import atexit
import json
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import traceback
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import FrameType

from guides import ROOT, good_guide, record
from mutations import KINDS

from build_tools.guide.pages import guide_view
from build_tools.guide.walk import walk_data
from build_tools.model.letters import HIDDEN
from build_tools.model.problems import Problem, has_errors
from build_tools.proof.checks import Checked, check, check_beside
from build_tools.proof.report import FORMATS
from build_tools.site.diagram import diagrams
from build_tools.site.pages import theme_pages, whole_files
from build_tools.site.render import Renderer
from build_tools.sources.library import Draft, read_library
from build_tools.sources.source import SourceFile

KEPT = ROOT / ".cache" / "mutations"
CHAPTERS = ("how-to-use.md", "safe-access.md")
LONGEST_SECONDS = 20
"""Of the processor, for one slip: twenty times what the whole guide takes."""
BUILT_EVERY = 20
"""So many accepted slips, or refused ones, for each that is taken on: to pages, or to the walks beside the error."""
BAD = ("traceback", "hang", "unplaced", "unseen letter in a report")


@dataclass(frozen=True)
class Guide:
    """A copy of a guide whose files are spoilt and put back, and what it was before."""

    root: Path
    files: tuple[str, ...]
    draft: Draft


@dataclass(frozen=True)
class Outcome:
    """What became of one slip."""

    number: int
    guide: str
    path: str
    kind: str
    what: str
    detail: str = ""


@cache
def guide_of(name: str) -> Guide:
    """Copy a guide into a folder of its own: `small` or `whole`."""
    root = Path(tempfile.mkdtemp(prefix="mutate-"))
    atexit.register(shutil.rmtree, root)
    if name == "small":
        good_guide(root)
        for chapter in CHAPTERS:
            shutil.copyfile(ROOT / "guide" / chapter, root / "guide" / chapter)
    else:
        for folder in ("trees", "guide"):
            shutil.copytree(ROOT / folder, root / folder)
    record(root)
    found = sorted((*(root / "trees").rglob("*.yaml"), *(root / "guide").rglob("*.md"), *root.rglob("*.svg")))
    files = tuple(each.relative_to(root).as_posix() for each in found)
    return Guide(root, files, read_library(root)[0])


class TooLong(BaseException):
    """A slip took more of the processor than any should; no handler of the program takes it for its own."""


def _too_long(_: int, __: FrameType | None) -> None:
    raise TooLong


def outcome_of(seed: int, number: int, every: int) -> Outcome:
    """Make one slip, look at all that is said of it, and put the file back."""
    dice = random.Random(f"{seed}:{number}")
    name = "whole" if number % every == 0 else "small"
    guide = guide_of(name)
    path = dice.choice(guide.files)
    kind = dice.choice(tuple(KINDS))
    file = guide.root / path
    before = file.read_bytes()
    spoilt = KINDS[kind](dice, before.decode("utf-8")).encode("utf-8", "surrogateescape")
    if spoilt == before:
        return Outcome(number, name, path, kind, "unchanged")
    file.write_bytes(spoilt)
    signal.setitimer(signal.ITIMER_PROF, LONGEST_SECONDS)
    try:
        what, detail = _told(guide, path, number)
    except TooLong:
        what, detail = "hang", "".join(traceback.format_stack(limit=3))
    except Exception:
        what, detail = "traceback", traceback.format_exc(limit=-4)
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        file.write_bytes(before)
    return Outcome(number, name, path, kind, what, detail)


def _told(guide: Guide, path: str, number: int) -> tuple[str, str]:
    checked = check(guide.root, guide.draft.files)
    lost = [each for each in checked.problems if not _is_placed(guide.root, each)]
    if lost:
        return "unplaced", str(lost[0])
    for form, report in FORMATS.items():
        said = report(checked.problems, checked.sources)
        said.encode("utf-8")
        if form in ("json", "sarif"):
            json.loads(said)
        if HIDDEN.search(said):
            return "unseen letter in a report", form
    if has_errors(checked.problems):
        if number % BUILT_EVERY == 1:
            _walked_beside(guide.root)
        blamed = {each.place.path for each in checked.problems if each.severity == "error"}
        return ("refused, this file blamed" if path in blamed else "refused, another file blamed"), ""
    if number % BUILT_EVERY == 1:
        _made(guide.root, checked)
    return _accepted(guide, path, checked), ""


def _accepted(guide: Guide, path: str, checked: Checked) -> str:
    assert checked.guide is not None  # there was no error
    codes = {each.code for each in checked.problems}
    if codes - {"version-not-raised"}:
        return "accepted with a warning"
    if codes:
        return "accepted, a new version wanted"
    was, now = guide.draft.files.get(path), checked.guide.draft.files.get(path)
    if was is None or now is None:
        return "accepted, a chapter or drawing"
    return "accepted, it says the same" if was.record == now.record else "accepted without a word"


def _is_placed(root: Path, problem: Problem) -> bool:
    """Tell whether a problem's place is a letter of a file, or the end of one of its lines."""
    place, file = problem.place, root / problem.place.path
    if not file.is_file():
        return problem.code == "missing-file" and (place.line, place.column) == (1, 1)
    text = SourceFile(place.path, file.read_bytes().decode("utf-8-sig", "replace"))
    return 1 <= place.line <= len(text.lines) and 1 <= place.column <= len(text.line(place.line)) + 1


def _walked_beside(root: Path) -> None:
    beside = check_beside(root)
    if beside.guide is not None:
        guide = guide_view(beside.guide)
        for tree in guide.trees:
            walk_data(guide, tree)


def _made(root: Path, checked: Checked) -> None:
    """Make all pages of an accepted guide, its diagrams as far as their text."""
    assert checked.guide is not None  # there was no error
    guide = guide_view(checked.guide)
    drawings = {each.stem: each.read_text(encoding="utf-8") for each in (root / "guide" / "drawings").glob("*.svg")}
    renderer = Renderer(ROOT / "site_overrides", drawings, dict(guide.sources))
    for tree in guide.trees:
        diagrams(tree, "../")
    for page in theme_pages(guide, lambda tree: {part.id: "" for part in tree.parts}, renderer):
        if page.address.startswith(("trees/", "remedies/")):
            page.html()
    for address, make in whole_files(guide, renderer, ""):
        if not address.startswith("scripts/"):
            make()


def kept(seed: int) -> Iterator[Outcome]:
    """Give the outcomes that are kept of a seed."""
    for file in sorted(KEPT.glob(f"{seed}-*.jsonl")):
        for line in file.read_text(encoding="utf-8").splitlines():
            if line.endswith("}"):
                yield Outcome(**json.loads(line))


def work(seed: int, numbers: range, every: int, log: Path) -> None:
    """Make the slips of these numbers that are not yet kept, and keep each outcome."""
    done = {each.number for each in kept(seed)}
    with log.open("a", encoding="utf-8") as lines:
        for number in (each for each in numbers if each not in done):
            # What no handler can stop, such as a search in a text, the system ends.
            used = resource.getrusage(resource.RUSAGE_SELF)
            end = int(used.ru_utime + used.ru_stime) + 3 * LONGEST_SECONDS
            resource.setrlimit(resource.RLIMIT_CPU, (end, resource.RLIM_INFINITY))
            lines.write(json.dumps(outcome_of(seed, number, every).__dict__) + "\n")
            lines.flush()


def _work_through(chosen: argparse.Namespace) -> None:
    """Run the processes; one that the system ended is begun anew behind the slip that it hung at."""
    KEPT.mkdir(parents=True, exist_ok=True)
    begin = [sys.executable, __file__, "--seed", str(chosen.seed), "--whole", str(chosen.whole)]
    begin += ["--count", str(chosen.count), "--processes", str(chosen.processes), "--part"]
    running = {part: subprocess.Popen([*begin, str(part)]) for part in range(chosen.processes)}
    while running:
        part, process = next(iter(running.items()))
        code = process.wait()
        if code == -signal.SIGXCPU:
            done = {each.number for each in kept(chosen.seed)}
            number = next(each for each in range(part, chosen.count, chosen.processes) if each not in done)
            with (KEPT / f"{chosen.seed}-{part}.jsonl").open("a", encoding="utf-8") as lines:
                lines.write(json.dumps(Outcome(number, "?", "?", "?", "hang").__dict__) + "\n")
            running[part] = subprocess.Popen([*begin, str(part)])
        else:
            del running[part]


def table(outcomes: list[Outcome]) -> str:
    """Give what became of the slips, by kind and in all."""
    whats = sorted({each.what for each in outcomes} | set(BAD), key=lambda what: (what in BAD, what))
    count = Counter((each.kind, each.what) for each in outcomes)
    rows = ["| what | " + " | ".join((*KINDS, "all")) + " |", "| --- " * (len(KINDS) + 2) + "|"]
    for what in whats:
        cells = [count[kind, what] for kind in KINDS]
        rows.append(f"| {what} | " + " | ".join(map(str, (*cells, sum(each.what == what for each in outcomes)))) + " |")
    whole = sum(each.guide == "whole" for each in outcomes)
    return "\n".join((*rows, "", f"{len(outcomes)} slips, {whole} of them in the guide itself."))


def main() -> int:
    """Run, print the table, and each slip that went wrong with what is needed to make it again."""
    words = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    words.add_argument("--count", type=int, default=100_000)
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    words.add_argument("--whole", type=int, default=10, metavar="EVERY")
    words.add_argument("--part", type=int, help=argparse.SUPPRESS)
    words.add_argument("--only", type=int, metavar="NUMBER")
    chosen = words.parse_args()
    signal.signal(signal.SIGPROF, _too_long)
    if chosen.only is not None:
        print(outcome_of(chosen.seed, chosen.only, chosen.whole))
        return 0
    if chosen.part is not None:
        numbers = range(chosen.part, chosen.count, chosen.processes)
        work(chosen.seed, numbers, chosen.whole, KEPT / f"{chosen.seed}-{chosen.part}.jsonl")
        return 0
    _work_through(chosen)
    outcomes = sorted(kept(chosen.seed), key=lambda each: each.number)
    print(table(outcomes))
    wrong = [each for each in outcomes if each.what in BAD]
    for each in wrong:
        print(f"\n{each.number}: {each.what}, {each.kind} in {each.path} ({each.guide})\n{each.detail}")
    return int(bool(wrong))


if __name__ == "__main__":
    sys.exit(main())
