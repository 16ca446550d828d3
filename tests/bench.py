"""Measures growth: N seeded trees of 25 steps through the whole build, beside a plain MkDocs build of the same text.

Usage: python tests/bench.py [N]   (default 100). Prints the table of DEVELOPERS.md, in seconds of the processor.
"""

from __future__ import annotations

import gzip
import os
import platform
import random
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml

ROOT = Path(__file__).resolve().parent.parent
STEPS = 25
WORDS = (
    "water roof tile slate gutter sheet glass frame rain wind lap edge corner nail batten felt stain mark drip line "
    "light head side foot joint seal strip upstand slope course ridge eaves"
)

EDITS = (
    ("title: 'Tree", "title: 'The tree"),
    ("Is the ", "Was the "),
    ("then: q3\n", "as: no\n          since: It lies elsewhere.\n"),
)
"""What makes another version of a tree: words, and an exit that leads elsewhere."""


def main() -> int:
    """Make the trees, build them both ways, print the figures."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    with tempfile.TemporaryDirectory() as folder:
        project = _project(Path(folder) / "guide", count)
        plain = _plain(Path(folder) / "plain", project)
        environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
        build = [sys.executable, "-m", "build_tools", "--root", str(project), "build"]
        check = [sys.executable, "-m", "build_tools", "--root", str(project), "check"]
        compose = [sys.executable, "-c", _COMPOSE, str(project / "trees")]
        mkdocs = [sys.executable, "-m", "mkdocs", "build", "-q", "-f", str(plain / "mkdocs.yml")]
        first = _seconds(build, environment)
        again = _seconds(build, environment)
        peak = _peak(build, environment)
        floor = _seconds(mkdocs, environment)
        review = [sys.executable, "-m", "build_tools", "--root", str(project), "review"]
        edited = [[*review, str(_edited(project, most)), "."] for most in (count, 1)]
        # 1: a person has to look, for an exit leads elsewhere.
        every, one = (_seconds(each, environment, ends=1) for each in edited)
        checking, composing = _seconds(check, environment), _seconds(compose, environment)
        pages = {each.stem: each.read_bytes() for each in (project / "site" / "walk").glob("*.html")}
    longest = max((each for each in pages if not each.startswith("tree-")), key=lambda name: len(pages[name]))
    print(f"{count} trees of {STEPS} steps, Python {platform.python_version()}, {os.cpu_count()} cores\n")
    print("| what | figure |\n| --- | --- |")
    print(f"| whole build, diagrams drawn anew | {first:.1f} s, {first / floor:.1f} times a plain MkDocs build |")
    print(f"| whole build, diagrams from the cache | {again:.1f} s, {again / floor:.1f} times |")
    print(f"| plain MkDocs build of the same words, one page a tree | {floor:.1f} s |")
    print(
        f"| `check` | {checking:.1f} s, {checking / composing:.1f} times composing the YAML alone ({composing:.2f} s) |"
    )
    print(f"| `review`, every tree edited | {every:.1f} s, {every / checking:.1f} times one check |")
    print(f"| `review`, one tree edited | {one:.1f} s, {one / checking:.1f} times one check |")
    print(f"| peak memory of the build | {peak:.0f} MiB |")
    print(f"| a walk page of such a tree | {_weight(pages['tree-001'])} |")
    print(f"| the longest walk page of the guide itself, {longest} | {_weight(pages[longest])} |")
    return 0


def _weight(page: bytes) -> str:
    return f"{len(page) / 1000:.0f} kB, {len(gzip.compress(page)) / 1000:.0f} kB compressed"


def _edited(project: Path, most: int) -> Path:
    """Copy the sources, so many of the trees with another title and question, and one exit led elsewhere."""
    other = project.with_name(f"edited-{most}")
    for folder in ("trees", "guide/drawings"):
        shutil.copytree(project / folder, other / folder)
    for file in sorted((other / "trees").glob("tree-*.yaml"))[:most]:
        text = file.read_text(encoding="utf-8")
        for old, new in EDITS:
            assert old in text
            text = text.replace(old, new, 1)
        file.write_text(text, encoding="utf-8")
    return other


_COMPOSE = """
import sys, yaml
from pathlib import Path
for file in sorted(Path(sys.argv[1]).rglob('*.yaml')):
    yaml.compose(file.read_text(encoding='utf-8'), Loader=yaml.CLoader)
"""


def _seconds(command: list[str], environment: dict[str, str], ends: int = 0) -> float:
    """Run a command that has to end with this code; gives what it took of the processor."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    done = subprocess.run(command, env=environment, cwd=ROOT, check=False, **quiet)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    assert done.returncode == ends, command
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def _peak(command: list[str], environment: dict[str, str]) -> float:
    process = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, cwd=ROOT)
    most = 0
    while process.poll() is None:
        status = Path(f"/proc/{process.pid}/status")
        lines = status.read_text().splitlines() if status.exists() else []
        most = max([most, *(int(line.split()[1]) for line in lines if line.startswith("VmHWM"))])
        time.sleep(0.05)
    return most / 1024


def _project(project: Path, count: int) -> Path:
    """Copy the guide without its trees and put the made-up ones there; each ends in real remedies."""
    for name in ("guide", "site_overrides", "trees"):
        shutil.copytree(ROOT / name, project / name)
    for name in ("mkdocs.yml", "LICENSE"):
        shutil.copy(ROOT / name, project)
    maker = random.Random(20261125)
    for number in range(1, count + 1):
        text = yaml.safe_dump(_tree(maker, number), sort_keys=False, allow_unicode=True)
        (project / "trees" / f"tree-{number:03}.yaml").write_text(text, encoding="utf-8")
    return project


def _tree(maker: random.Random, number: int) -> dict[str, object]:
    """Make a tree of 25 steps: each question leads on to the next ones, the last to four real remedies."""
    asked = STEPS - 4
    ends = ["keep-a-rain-log", "contain-the-water", "stop-and-call-for-help", "call-a-roofer-for-this-light"]
    parts: dict[str, dict[str, object]] = {"a": {}, "b": {}, "c": {}}
    reached = {"q0"}
    for place in range(asked):
        beyond = [f"q{each}" for each in range(2 * place + 1, min(2 * place + 4, asked))]
        beyond += [f"end{each}" for each in range(3 - len(beyond))]
        parts["abc"[min(2, place // 8)]][f"q{place}"] = _question(maker, number, place, beyond)
        reached |= set(beyond)
    parts["c"] |= {f"end{place}": {"remedy": remedy} for place, remedy in enumerate(ends)}
    return {
        "title": f"Tree {number}: {_words(maker, 4)}",
        "version": "1.0.0",
        "revised": "2026-11-25",
        "about": f"{_words(maker, 12).capitalize()}.",
        "starts-at": "q0",
        "parts": {
            part: {"title": f"Part {part}", "steps": {name: step for name, step in steps.items() if name in reached}}
            for part, steps in parts.items()
        },
    }


def _question(maker: random.Random, number: int, place: int, beyond: list[str]) -> dict[str, object]:
    return {
        "question": f"Is the {_words(maker, 4)} {number} {place} wet?",
        "where": "inside",
        "effort": "look",
        "minutes": 2,
        "look": f"{_words(maker, 14).capitalize()}.",
        "yes": {"looks": f"{_words(maker, 9).capitalize()}.", "then": beyond[0]},
        "no": {"looks": f"{_words(maker, 9).capitalize()}.", "then": beyond[1]},
        "unsure": {"then": beyond[2]},
        "why": f"{_words(maker, 9).capitalize()}.",
    }


def _words(maker: random.Random, count: int) -> str:
    return " ".join(maker.choice(WORDS.split()) for _ in range(count))


def _plain(plain: Path, project: Path) -> Path:
    """Write the same words as Markdown for a plain MkDocs build with the same theme, sections only."""
    docs = plain / "docs"
    docs.mkdir(parents=True)
    files = sorted((project / "trees").glob("*.yaml")) + sorted((project / "trees" / "remedies").glob("*.yaml"))
    for file in files:
        (docs / f"{file.stem}.md").write_text(
            _markdown(yaml.load(file.read_text(), yaml.CBaseLoader)), encoding="utf-8"
        )
    (docs / "index.md").write_text("# All\n", encoding="utf-8")
    settings = {"site_name": "Plain", "theme": {"name": "material", "font": False}, "nav": ["index.md"]}
    (plain / "mkdocs.yml").write_text(yaml.safe_dump({**settings, "plugins": ["search", "offline"]}), encoding="utf-8")
    return plain


def _markdown(record: dict[str, object]) -> str:
    lines = [f"# {record['title']}", ""]
    for name, step in _steps(record):
        lines += [f"## {step.get('question', step.get('do', name))} {{#{name}}}", ""]
        lines += [f"{value}\n" for value in step.values() if isinstance(value, str)]
        for answer, way in step.items():
            if isinstance(way, dict) and "then" in way:
                lines.append(f"- {answer}: {way.get('looks', '')} [{way['then']}](#{way['then']})")
        lines.append("")
    return "\n".join(lines)


def _steps(record: dict[str, Any]) -> Iterator[tuple[object, dict[str, Any]]]:
    for part in record.get("parts", {}).values():
        yield from part["steps"].items()
    steps = record.get("steps", {})
    yield from steps.items() if isinstance(steps, dict) else enumerate(steps)


if __name__ == "__main__":
    sys.exit(main())
