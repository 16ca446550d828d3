"""The chapter "Writing a tree", done from its first command to its last as a newcomer would do it.

The chapter itself is the script; nothing of it stands here a second time. What its blocks mean:

- `console`: each `$ ` line is typed, and what follows is all that it says. A line `…` stands for any lines,
  `…` within a line for any text. What is typed after a question of `walk` stands on the line of the question.
- `yaml` after a line that begins "Write `path`" or "Add to the end of `path`": the file, or what it gets.
- `diff` after a line that begins "Change `path`": lines with `-` or a space stand together in that file,
  once; lines with `+` or a space stand there afterwards.

A command that tells of an error, or of a caution that fell, ends with 1, and every other ends with 0.
Three things differ from a newcomer's machine. `ADDRESS` is a bare repository beside the clone. What
`make site` installs is taken from this project, so that it only checks and builds. And `serve`, which runs
until it is stopped, takes any free port, and is stopped when the tree has been looked at.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.request import urlopen

import pytest
from guides import ROOT, record

CHAPTER = ROOT / "guide" / "writing-a-tree.md"
FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.M | re.S)
INTO_FILE = re.compile(r"(Write|Add to the end of|Change) `([^`]+)`")
TYPED = re.compile(r"^( +[a-z-]+(?: / [a-z-]+)+: )(\S+)$")
ENDS_WITH_1 = re.compile(r"\b[1-9]\d* errors?,|: error: |a second person has to look")
SERVES = "python -m build_tools serve"
NOT_COPIED = shutil.ignore_patterns(
    ".git", ".venv", "site", ".site-*", ".*_cache", ".cache", ".hypothesis", "__pycache__"
)


@dataclass(frozen=True)
class Block:
    """One fenced block of the chapter: where it stands, its language, its text, and the line of prose before it."""

    line: int
    kind: str
    text: str
    before: str


@dataclass(frozen=True)
class Typed:
    """One command: where it stands, what is typed, what is typed at its questions, and what it is to say."""

    line: int
    command: str
    answers: tuple[str, ...]
    shown: tuple[str, ...]


def blocks() -> Iterator[Block]:
    chapter = CHAPTER.read_text(encoding="utf-8")
    for found in FENCE.finditer(chapter):
        before = chapter[: found.start()].rstrip().rsplit("\n", 1)[-1]
        yield Block(chapter.count("\n", 0, found.start()) + 1, found[1], found[2], before)


BLOCKS = tuple(blocks())


def commands_in(block: Block) -> Iterator[Typed]:
    """Read a console block; the line after a typed answer is the one that Enter makes in a terminal."""
    for part in re.split(r"^(?=\$ )", block.text, flags=re.M)[1:]:
        command, *shown = part.rstrip("\n").split("\n")
        line = block.line + 1 + block.text.count("\n", 0, block.text.index(part))
        answers, said, skip = [], [], False
        for each in shown:
            if found := TYPED.match(each):
                answers.append(found[2])
                said.append(found[1].rstrip())
            elif each or not skip:
                said.append(each)
            skip = bool(found)
        yield Typed(line, command.removeprefix("$ "), tuple(answers), tuple(said))


COMMANDS = {typed.line: typed for block in BLOCKS if block.kind == "console" for typed in commands_in(block)}


def pattern_of(shown: tuple[str, ...]) -> str:
    """Make the pattern of what a command is to say, with its ellipses."""
    lines = [r"(?:.*\n)*" if each == "…" else f"{re.escape(each).replace('…', '.*')} *\n" for each in shown]
    return "".join(lines)


@dataclass
class Newcomer:
    """Somebody in a shell of their own, with a project to clone, and a note of all that was said."""

    home: Path
    address: Path
    here: Path
    tree: str = ""
    served: str = ""
    """The page of the walk as `serve` showed it."""

    def __post_init__(self) -> None:
        self.said: dict[int, tuple[str, int]] = {}
        self.environment = {
            "HOME": str(self.home),
            "PATH": f"{Path(sys.prefix) / 'bin'}{os.pathsep}{os.environ['PATH']}",
            "LANG": "C.UTF-8",
            "GIT_CONFIG_NOSYSTEM": "1",
            "COLUMNS": "100",
        }

    def does(self, block: Block) -> None:
        found = INTO_FILE.match(block.before)
        if block.kind == "console":
            for typed in commands_in(block):
                self.said[typed.line] = self.types(typed)
        elif found:
            self.writes(self.here / found[2], found[1], block.text)

    def writes(self, file: Path, how: str, text: str) -> None:
        """Write, lengthen or change a file as the block says."""
        if how == "Write":
            file.write_text(text, encoding="utf-8")
            return
        held = file.read_text(encoding="utf-8")
        old = "".join(line[1:] for line in text.splitlines(True) if line[0] in "- ") if how == "Change" else ""
        new = "".join(line[1:] for line in text.splitlines(True) if line[0] in "+ ") if how == "Change" else text
        assert not old or held.count(old) == 1, f"{file.name} holds this {held.count(old)} times:\n{old}"
        file.write_text(held.replace(old, new) if old else held + new, encoding="utf-8")

    def types(self, typed: Typed) -> tuple[str, int]:
        """Run one command where the last `cd` led; gives what it said, and how it ended."""
        if " new " in typed.command and "--remedy" not in typed.command:
            self.tree = typed.command.split()[-1]
        if typed.command.startswith("cd "):
            self.here = self.here / typed.command.removeprefix("cd ")
            borrow_environment(self.here)
            return "", 0 if self.here.is_dir() else 1
        if typed.command.startswith(SERVES):
            return self.serves(typed)
        done = subprocess.run(
            ["bash", "-c", typed.command.replace("ADDRESS", str(self.address))],
            cwd=self.here,
            env=self.environment,
            input="".join(f"{each}\n" for each in typed.answers),
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            timeout=900,
        )
        return done.stdout, done.returncode

    def serves(self, typed: Typed) -> tuple[str, int]:
        """Start the live view, look at the tree in it, and stop it with Ctrl-C."""
        running = subprocess.Popen(
            ["bash", "-c", f"exec {typed.command} --port 0"],
            cwd=self.here,
            env=self.environment,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )
        assert running.stdout is not None
        said = "".join(running.stdout.readline() for _ in typed.shown)
        address = re.search(r"http://127\.0\.0\.1:(\d+)/", said)
        assert address, said
        with urlopen(f"{address[0]}walk/{self.tree}.html", timeout=300) as page:
            self.served = page.read().decode()
        running.send_signal(signal.SIGINT)
        running.communicate(timeout=300)
        return said.replace(f":{address[1]}/", ":8000/"), 0


def borrow_environment(clone: Path) -> None:
    """Give a clone this project's set-up, so that `make` installs nothing, and its drawings; neither is changed."""
    mine = clone / ".venv"
    if mine.exists():
        return
    mine.mkdir()
    shutil.copy(Path(sys.prefix) / "pyvenv.cfg", mine)
    for folder in ("bin", "lib"):
        (mine / folder).symlink_to(Path(sys.prefix) / folder)
    (mine / "site.stamp").touch()
    # A drawing is kept under the hash of what it is drawn from, so one that was drawn here is the same there.
    drawn = ROOT / ".cache" / "diagrams"
    drawn.mkdir(parents=True, exist_ok=True)
    (clone / ".cache").mkdir()
    (clone / ".cache" / "diagrams").symlink_to(drawn)


@pytest.fixture(scope="module")
def newcomer(tmp_path_factory: pytest.TempPathFactory) -> Newcomer:
    """Go through the whole chapter once, in a clone of this project as it stands, with its versions recorded."""
    home = tmp_path_factory.mktemp("newcomer")
    project, address = home / "project", home / "project.git"
    shutil.copytree(ROOT, project, ignore=NOT_COPIED)
    record(project)
    git = ["git", "-c", "user.name=A", "-c", "user.email=a@example.org", "-C", str(project)]
    for words in (["init", "-q", "-b", "main"], ["add", "--all"], ["commit", "-q", "-m", "The guide"]):
        subprocess.run([*git, *words], check=True)
    subprocess.run(["git", "clone", "-q", "--bare", str(project), str(address)], check=True)
    somebody = Newcomer(home, address, home)
    for block in BLOCKS:
        somebody.does(block)
    return somebody


@pytest.mark.parametrize("line", COMMANDS)
def test_command_says_what_the_chapter_shows(newcomer: Newcomer, line: int) -> None:
    typed = COMMANDS[line]
    said, code = newcomer.said[line]
    told = f"{CHAPTER.name}:{line}: {typed.command}\n\n{said}"
    assert re.fullmatch(pattern_of(typed.shown), said if said.endswith("\n") or not said else f"{said}\n"), told
    assert code == int(bool(ENDS_WITH_1.search("\n".join(typed.shown)))), told


def test_live_view_shows_the_new_tree(newcomer: Newcomer) -> None:
    written = (newcomer.here / f"trees/{newcomer.tree}.yaml").read_text(encoding="utf-8")
    asked = re.findall(r"^ +question: (.+)$", written, re.M)
    assert asked and [each for each in asked if each not in newcomer.served] == []


def test_every_block_of_the_chapter_is_done() -> None:
    idle = [
        block.line
        for block in BLOCKS
        if block.kind != "console"
        and not ((found := INTO_FILE.match(block.before)) and (block.kind == "diff") == (found[1] == "Change"))
    ]
    assert idle == [], "say before the block which file it goes into, as the other blocks do"
    assert all(block.text.startswith("$ ") for block in BLOCKS if block.kind == "console")


def test_chapter_shows_every_command_of_an_author() -> None:
    from build_tools.commands.parser import AUTHORS

    shown = {word for typed in COMMANDS.values() for word in typed.command.split()}
    assert {each.COMMAND.name for each in AUTHORS} | {"check", "walk", "calc", "record", "review"} <= shown
