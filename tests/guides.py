"""Small guides for tests: the good one, and broken ones made from it by edits that read like a diff.

An edit file begins with a line that says what is wrong. Then come blocks, each under `@ path`: lines with
`-` or a space must stand together in that file, once; lines with `+` or a space stand there afterwards.
A block of `+` lines alone writes the whole file. After the path may stand `delete`, `bytes` (backslash
escapes are bytes), `x50001` (the lines so often), `recorded` (the version was recorded before this edit),
`link` (to what the line names), `pipe`.
"""

from __future__ import annotations

import atexit
import os
import re
import shutil
import tempfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import yaml
from own_tables import DATA, FORMULAS

from build_tools.guide.pages import guide_view
from build_tools.guide.views import GuideView
from build_tools.model import DATA_TABLES, Tree
from build_tools.proof.checks import Checked, CheckedGuide, check
from build_tools.proof.report import as_text
from build_tools.proof.versions import current_versions, versions_text
from build_tools.sources.gates import whole
from build_tools.sources.library import REMEDY, TABLES, Draft, read_library, table_path

ROOT = Path(__file__).resolve().parent.parent
TREES = Path(__file__).parent / "trees"
GOOD = TREES / "good"
BROKEN = TREES / "broken"
HELD = TREES / "held"
"""A stated case and what was read by hand, to which the good guide is held in broken examples."""
CAUTION = {
    "signal": "warning",
    "answers": ("fall",),
    "hazard": "Fall",
    "consequence": "You die.",
    "avoidance": "Stay down.",
    "stop-when": "It moves.",
    "call": "Nobody.",
}
"""A row of the table of cautions, as an author writes it."""
CLEAN = "No errors, no warnings."
Plain = dict[str, Any]
"""What a file holds: keys with values, before it is a record."""
SMALLEST: Plain = {
    "vocabulary": {
        "covering": {"plain-tile": "tiles", "slate": "slates"},
        "light": {"pane": "a pane", "dome": "a dome"},
    },
    "settings": {"first-tree": "a", "make-safe": "r"},
}


@dataclass(frozen=True)
class Edit:
    path: str
    flag: str
    old: str
    new: str


@cache
def checked_whole() -> Checked:
    """Give the guide itself, read and judged once for all tests."""
    return check(ROOT)


def the_checked() -> CheckedGuide:
    """Give the guide itself, proved."""
    guide = checked_whole().guide
    assert guide is not None, "mend the sources first"
    return guide


@cache
def the_guide() -> GuideView:
    """Give the guide itself as its pages show it."""
    return guide_view(the_checked())


def record(root: Path) -> None:
    """Record every tree under its version, as the command does, whatever else is wrong."""
    draft, _, _ = read_library(root)
    (root / table_path("versions")).write_text(versions_text(current_versions(draft)), encoding="utf-8")


def _add_what_formulas_rest_on(root: Path) -> None:
    """Add the guide's own data tables, and the sources that these and the formulas name at the end of that table."""
    for name in DATA:
        shutil.copyfile(ROOT / table_path(name), root / table_path(name))
    mine = root / table_path("sources")
    held = yaml.load(mine.read_text(encoding="utf-8"), yaml.BaseLoader)
    known = yaml.load((ROOT / table_path("sources")).read_text(encoding="utf-8"), yaml.BaseLoader)
    named = {name for each in FORMULAS.values() for name in each.all_sources}
    named |= {row.source for table in DATA.values() for row in table.values()}
    wanted = {name: known[name] for name in named if name not in held}
    with mine.open("a", encoding="utf-8") as table:
        yaml.safe_dump(wanted, table, sort_keys=True, width=1000)


@cache
def _recorded_good() -> Path:
    # Not recorded in the repository: a change of a formula would change the hashes.
    root = Path(tempfile.mkdtemp(prefix="good-guide-"))
    atexit.register(shutil.rmtree, root)
    shutil.copytree(GOOD, root, dirs_exist_ok=True)
    _add_what_formulas_rest_on(root)
    record(root)
    return root


def good_guide(folder: Path) -> Path:
    """Copy the good guide, recorded, into a folder."""
    return Path(shutil.copytree(_recorded_good(), folder, dirs_exist_ok=True))


def with_site(root: Path) -> Path:
    """Add the site's templates, its settings and one chapter to a guide, so that it can be built and shown."""
    shutil.copytree(ROOT / "site_overrides", root / "site_overrides")
    shutil.copyfile(ROOT / "LICENSE", root / "LICENSE")
    settings = (ROOT / "mkdocs.yml").read_text(encoding="utf-8")
    nav = settings.rindex("nav:\n")
    (root / "mkdocs.yml").write_text(settings[:nav] + "nav:\n  - index.md\n", encoding="utf-8")
    (root / "guide" / "index.md").write_text("# The shed\n\n[A walk](walk/potting-shed.html)\n", encoding="utf-8")
    return root


def with_program(root: Path) -> Path:
    """Add this program to a guide, and the tables that its formulas reckon with, as the shed's own notes."""
    shutil.copytree(ROOT / "build_tools", root / "build_tools", ignore=shutil.ignore_patterns("__pycache__"))
    for name in DATA_TABLES:
        table = (ROOT / table_path(name)).read_text(encoding="utf-8")
        (root / table_path(name)).write_text(re.sub(r"\bsource: .*", "source: shed-notes", table), encoding="utf-8")
    return root


def edit(root: Path, path: str, old: str, new: str) -> None:
    """Replace a text that stands once in a file."""
    file = root / path
    text = file.read_bytes().decode("utf-8")
    assert text.count(old) == 1, f"{path} holds {text.count(old)} times:\n{old}"
    file.write_bytes(text.replace(old, new).encode("utf-8"))


def turn_round(root: Path, path: str) -> None:
    """Exchange where yes and no lead at the first question of a tree; who cannot tell is led as before."""
    file = root / path
    text = file.read_text(encoding="utf-8")
    (first, at), (second, after) = ((each[1], each.start(1)) for each in list(re.finditer(r" then: (\S+)\n", text))[:2])
    text = text[:at] + second + text[at + len(first) : after] + first + text[after + len(second) :]
    (other,) = re.findall(r"unsure: {as: (yes|no),", text)[:1]
    text = text.replace(f"unsure: {{as: {other},", f"unsure: {{as: {'no' if other == 'yes' else 'yes'},", 1)
    file.write_text(text, encoding="utf-8")


def edits_of(text: str) -> list[Edit]:
    """Read the blocks of an edit file."""
    edits = []
    for block in re.split(r"^@ ", text, flags=re.M)[1:]:
        head, *lines = block.rstrip("\n").split("\n")
        path, _, flag = head.partition(" ")
        old, new = ("".join(f"{each[1:]}\n" for each in lines if each and each[0] in signs) for signs in ("- ", "+ "))
        edits.append(Edit(path, flag, old, new))
    return edits


def apply(root: Path, change: Edit) -> None:
    """Make one edit."""
    file = root / change.path
    if change.flag == "delete":
        file.unlink()
    elif change.flag == "link":
        file.unlink(missing_ok=True)
        file.symlink_to(change.new.strip())
    elif change.flag == "pipe":
        os.mkfifo(file)
    elif change.old:
        edit(root, change.path, change.old, change.new)
    elif change.flag == "bytes":
        file.write_bytes(change.new.encode("latin-1").decode("unicode_escape").encode("latin-1"))
    else:
        times = int(change.flag.removeprefix("x")) if change.flag.startswith("x") else 1
        file.write_bytes(change.new.encode("utf-8") * times)


def held_guide(folder: Path) -> Path:
    """Copy the good guide, recorded, with its stated case and readings."""
    return Path(shutil.copytree(HELD, good_guide(folder), dirs_exist_ok=True))


def broken_guide(name: str, folder: Path) -> Path:
    """Make the good guide, held to its readings, and break it as an edit file says."""
    root = held_guide(folder)
    edits = edits_of((BROKEN / f"{name}.edit").read_text(encoding="utf-8"))
    for change in edits:
        apply(root, change)
    if not any(change.flag == "recorded" or "versions" in change.path for change in edits):
        record(root)
    return root


def broken_names() -> list[str]:
    """Name every broken example: a code, and after a point which way of breaking it."""
    return sorted(each.stem for each in BROKEN.glob("*.edit"))


def report_of(root: Path) -> str:
    """Check a guide and give the report as a person reads it."""
    checked = check(root)
    return as_text(checked.problems, checked.sources) + "\n"


def codes_of(root: Path) -> list[str]:
    """Check a guide and give the codes of its problems, in order."""
    return [each.code for each in check(root).problems]


def draft_of(trees: Plain, remedies: Plain, **tables: Plain) -> Draft:
    """Make a draft from plain data, as if it had been read from files."""
    read = {name: kind.validate_python(tables.get(name, SMALLEST.get(name, {}))) for name, kind in TABLES.items()}
    written = read.pop("gates")
    return Draft(
        trees={name: Tree.model_validate(each) for name, each in trees.items()},
        remedies={name: REMEDY.validate_python(each) for name, each in remedies.items()},
        drawings=frozenset(),
        named={"trees": frozenset(trees), "remedies": frozenset(remedies)},
        files={},
        gates=whole(written),
        written_gates=written,
        data=DATA,
        formulas=FORMULAS,
        **read,
    )


def tree(steps: Plain, **more: Any) -> Plain:
    """Give a tree's plain data; it starts at its first step."""
    about = {"title": "A tree", "version": "1.0.0", "revised": "2026-11-25", "about": "For tests."}
    return {**about, "starts-at": next(iter(steps)), "steps": steps, **more}


def question(name: str, yes: str, no: str, unsure: str, **more: Any) -> Plain:
    """Give a question's plain data, asked inside by looking unless told otherwise."""
    exits = {"yes": yes, "no": no, "unsure": unsure}
    words = {"question": f"Is it {name}?", "look": "Look.", "if-so": "So.", "if-not": "Not so.", "why": "It tells."}
    return {**words, "where": "inside", "effort": "look", "exits": exits, **more}


def gate(name: str, yes: str, no: str, unsure: str) -> Plain:
    """Give a gate step's plain data."""
    return {"gate": name, "exits": {"yes": yes, "no": no, "unsure": unsure}}


def remedy(*steps: Plain, **more: Any) -> Plain:
    """Give a remedy's plain data; its work is one look from inside unless told otherwise."""
    words = ("title", "cures", "who", "water-leaves", "prove", "look-again", "record")
    suits = {"covering": ("any",), "light": ("any",)}
    plain = {"suits": suits, "lasts": "lasting", "glass": "stays-in", "cautions": ("care",), "after-failed-proof": "a"}
    return {**dict.fromkeys(words, "Text."), **plain, "steps": steps or ({"do": "Look.", "where": "inside"},), **more}


def opens(*openings: str) -> Plain:
    """Give a gate's plain data."""
    conditions = ({"holds": "It is dry."},)
    return {"title": "Up", "opens": openings, "all-of": conditions, "ends-when": ("came-down",), "if-not": "Stay."}
