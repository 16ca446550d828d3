"""The whole build from the shell: what it writes, and what it leaves alone when something is wrong."""

from __future__ import annotations

import errno
import fcntl
import json
import os
import re
import shutil
import stat
import subprocess
import sys
import time
from html import unescape
from pathlib import Path

import pytest
from guides import ROOT, edit, good_guide, record, with_site

from build_tools.__main__ import main
from build_tools.proof.checks import CheckedGuide
from build_tools.site.publish import MARK, clear_up

COLD, SHED = "trees/cold-pane.yaml", "trees/potting-shed.yaml"
VOCABULARY = "trees/tables/vocabulary.yaml"
KIND_OF_LIGHT = re.compile(r"^light:\n  ([a-z-]+): (.*)$", re.M)
"""The first kind of light in the vocabulary: its id and its words."""


@pytest.fixture
def project(good: Path) -> Path:
    """The good guide with the site's templates and one chapter, so that it can be built."""
    return with_site(good)


@pytest.fixture(scope="module")
def built_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same project, built once by somebody who keeps files from others, for tests that begin with a site."""
    root = with_site(good_guide(tmp_path_factory.mktemp("built") / "guide"))
    before = os.umask(0o077)
    try:
        assert build(root) == 0
    finally:
        os.umask(before)
    return root


@pytest.fixture
def built(built_once: Path, tmp_path: Path) -> Path:
    """A copy of it, to be changed."""
    return Path(shutil.copytree(built_once, tmp_path / "guide"))


@pytest.fixture
def made_already(built_once: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Take the pages that MkDocs wrote once, and one more: what is done with them then does not depend on them."""

    def take(root: Path, guide: CheckedGuide, fresh: Path) -> None:
        shutil.copytree(built_once / "site", fresh, dirs_exist_ok=True)
        (fresh / MARK).unlink()
        (fresh / "new.txt").write_text("New.")

    monkeypatch.setattr("build_tools.site.publish._build", take)


def build(project: Path, *more: str) -> int:
    return main(["--root", str(project), "build", *more])


def contents(folder: Path) -> dict[str, bytes]:
    return {each.relative_to(folder).as_posix(): each.read_bytes() for each in folder.rglob("*") if each.is_file()}


def test_build_writes_every_page_and_says_where(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert build(project) == 0
    site = project / "site"
    wanted = ["index.html", "walk/potting-shed.html", "paper/cold-pane.html", "remedies/catch-the-drip.html", "sw.js"]
    assert [name for name in wanted if not (site / name).exists()] == []
    assert f"Open {site / 'index.html'} in a browser" in capsys.readouterr().out


@pytest.fixture(scope="module")
def odd(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site, for a published address, of a project whose words have letters that mean something to a program."""
    root = with_site(good_guide(tmp_path_factory.mktemp("odd") / "guide"))
    title = "A shed <script>document.title = 1</script>"
    edit(root, COLD, "title: The pane is wet in dry weather", f"title: {title}")
    edit(root, "trees/tables/gates.yaml", "title: Going up the ladder at the shed", f"title: {title}")
    edit(root, SHED, "title: Water drips in the potting shed", 'title: >-\n  Wet: pane #2 & "lath" <1 m> up')
    kind = KIND_OF_LIGHT.search((root / VOCABULARY).read_text(encoding="utf-8"))
    assert kind is not None
    edit(root, VOCABULARY, kind[0], rf"{kind[0]} \ 50% open")
    with (root / VOCABULARY).open("a", encoding="utf-8") as table:
        table.write(f"found-on:\n  {kind[1]}:\n    - slate\n")
    record(root)
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv("SITE_URL", "https://guide.example.invalid/leaks/")
        assert build(root) == 0
    return root / "site"


def test_build_for_a_published_address_puts_it_on_every_checklist(odd: Path) -> None:
    sheets = [each.read_text(encoding="utf-8") for each in sorted((odd / "paper").glob("*.html"))]
    assert len(sheets) == 2
    for name, sheet in zip(("cold-pane", "potting-shed"), sheets, strict=True):
        assert f"https://guide.example.invalid/leaks/walk/{name}.html?v=" in sheet
        assert 'class="code"><svg' in sheet
    chapter = (odd / "index.html").read_text(encoding="utf-8")
    assert '<link rel="canonical" href="https://guide.example.invalid/leaks/index.html">' in chapter


def test_titles_that_look_like_markup_are_shown_and_run_nothing(odd: Path) -> None:
    shown = [page for page in odd.rglob("*.html") if "document.title" in page.read_text("utf-8")]
    assert shown != []
    assert [page.name for page in shown if "<script>document.title" in page.read_text("utf-8")] == []


def test_same_sources_give_the_same_bytes(built: Path) -> None:
    first = contents(built / "site")
    assert build(built) == 0
    again = contents(built / "site")
    # MkDocs writes the day of the build into the sitemap, which the guide does not keep.
    assert [name for name in first if first[name] != again[name] and "sitemap" not in name] == []


def test_failed_check_leaves_the_last_site_whole(built: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = contents(built / "site")
    edit(built, COLD, "starts-at", "start-at")
    assert build(built) == 1
    assert contents(built / "site") == before
    assert "The site that was there is untouched." in capsys.readouterr().err


def test_fault_in_the_finished_site_leaves_the_last_one_whole(built: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = contents(built / "site")
    chapter = built / "guide" / "index.md"
    chapter.write_text(f'{chapter.read_text()}\n<a href="walk/nowhere.html">Lost</a>\n')
    assert build(built) == 1
    assert contents(built / "site") == before
    assert 'index.html: "walk/nowhere.html" leads to a file that does not exist' in capsys.readouterr().err


def test_first_build_that_fails_writes_nothing(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    edit(project, COLD, "starts-at", "start-at")
    assert build(project) == 1
    assert not (project / "site").exists()
    assert "Nothing was written." in capsys.readouterr().err


def test_chapter_that_a_tree_would_overwrite_is_refused(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (project / "guide" / "terms.md").write_text("# Mine\n")
    assert build(project) == 1
    assert "terms.md stands in guide/ and is generated from trees/ too; rename one." in capsys.readouterr().err


def test_chapter_may_name_a_place_on_a_generated_page_that_is_there(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    chapter = project / "guide" / "index.md"
    chapter.write_text("# The shed\n\n[Gates](cautions.md#gates)\n")
    assert build(project) == 0
    chapter.write_text("# The shed\n\n[Gates](cautions.md#fences)\n")
    assert build(project) == 1
    assert 'index.html: "cautions.html#fences" leads to an anchor that does not exist' in capsys.readouterr().err


def left_behind(project: Path) -> list[str]:
    return [each.name for each in project.iterdir() if each.name.startswith(".site")]


@pytest.mark.parametrize("out", ["guide", "trees", "site_overrides", "."])
def test_folder_that_no_build_wrote_is_never_replaced(
    project: Path, capsys: pytest.CaptureFixture[str], out: str
) -> None:
    before = contents(project)
    assert build(project, "--out", str(project / out)) == 2
    assert contents(project) == before
    assert "holds other things than a built site. Name a new or an empty folder." in capsys.readouterr().err


def test_file_is_not_replaced_by_a_folder(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert build(project, "--out", str(project / "mkdocs.yml")) == 2
    assert "mkdocs.yml is a file. Name a folder." in capsys.readouterr().err


def test_site_goes_into_an_empty_folder_and_below_new_ones(project: Path) -> None:
    (project / "empty").mkdir()
    assert build(project, "--out", str(project / "empty")) == 0
    assert build(project, "--out", str(project / "new" / "below")) == 0
    assert contents(project / "empty").keys() == contents(project / "new" / "below").keys()


@pytest.mark.usefixtures("made_already")
def test_disk_that_is_full_is_told_and_leaves_the_last_site_whole(
    built: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    before = contents(built / "site")

    def full(site: Path) -> None:
        raise OSError(errno.ENOSPC, "No space left on device", str(site))

    monkeypatch.setattr("build_tools.site.publish.prove", full)
    assert build(built) == 1
    assert "No space left on device.\nThe site that was there is untouched." in capsys.readouterr().err
    assert contents(built / "site") == before
    assert left_behind(built) == []


@pytest.mark.usefixtures("made_already")
@pytest.mark.parametrize("fault", [KeyboardInterrupt(), PermissionError(errno.EACCES, "Permission denied", "site")])
def test_exchange_that_is_broken_off_puts_the_last_site_back(
    built: Path, monkeypatch: pytest.MonkeyPatch, fault: BaseException
) -> None:
    before = contents(built / "site")
    rename = Path.rename

    def broken(path: Path, target: Path) -> Path:
        if path.name == "new":
            raise fault
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", broken)
    assert build(built) == (130 if isinstance(fault, KeyboardInterrupt) else 1)
    assert contents(built / "site") == before
    assert left_behind(built) == []


def test_build_killed_between_its_two_renames_is_mended_by_the_next(built: Path) -> None:
    before = contents(built / "site")
    left = built / ".site.being-built-killed"
    (left / "new").mkdir(parents=True)
    (built / "site").rename(left / "old")
    edit(built, COLD, "starts-at", "start-at")
    assert build(built) == 1
    assert contents(built / "site") == before
    assert left_behind(built) == []


def test_folder_of_a_build_that_is_at_work_is_left_alone(project: Path) -> None:
    at_work = project / ".site.being-built-now"
    (at_work / "new").mkdir(parents=True)
    opened = os.open(at_work, os.O_RDONLY)
    fcntl.flock(opened, fcntl.LOCK_EX)
    clear_up(project / "site")
    assert left_behind(project) == [at_work.name]
    os.close(opened)
    clear_up(project / "site")
    assert left_behind(project) == []


def test_build_that_was_killed_leaves_nothing_for_long(project: Path) -> None:
    call = [sys.executable, "-m", "build_tools", "--root", str(project), "build"]
    killed = subprocess.Popen(call, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    while not any(project.glob(".site*/new/*")):
        assert killed.poll() is None
        time.sleep(0.01)
    killed.kill()
    killed.wait()
    assert len(left_behind(project)) == 1
    (project / ".site.notes" / "old").mkdir(parents=True)
    edit(project, COLD, "starts-at", "start-at")
    assert build(project) == 1
    assert left_behind(project) == [".site.notes"]


def test_folder_that_only_holds_an_archive_of_the_same_name_is_not_replaced(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    mine = project / "mine"
    (mine / "photos").mkdir(parents=True)
    for name in ("guide.zip", "thesis.doc", "photos/one.png"):
        (mine / name).write_text("Mine.")
    assert build(project, "--out", str(mine)) == 2
    assert set(contents(mine)) == {"guide.zip", "thesis.doc", "photos/one.png"}
    said = capsys.readouterr().err
    assert "A site from before builds wrote built-site.json is not replaced: delete it yourself" in said


def test_what_no_build_wrote_stays_in_the_folder_of_a_site(built: Path) -> None:
    site = built / "site"
    (site / ".git" / "refs").mkdir(parents=True)
    (site / "photos").mkdir()
    mine = {name: b"Mine." for name in (".git/HEAD", "CNAME", ".nojekyll", "photos/one.png", "walk/notes.txt")}
    for name, content in mine.items():
        (site / name).write_bytes(content)
    edit(built, COLD, "title: The pane is wet in dry weather", "title: The pane is wet when it is dry")
    (built / COLD).rename(built / "trees" / "wet-pane.yaml")
    for path in ("trees/potting-shed.yaml", "trees/remedies/hang-the-tile-back.yaml"):
        file = built / path
        file.write_text(file.read_text(encoding="utf-8").replace("cold-pane", "wet-pane"), encoding="utf-8")
    record(built)
    assert build(built) == 0
    after = contents(site)
    assert {name: after[name] for name in mine} == mine
    assert (site / ".git" / "refs").is_dir()
    assert b"The pane is wet when it is dry" in after["walk/wet-pane.html"]
    assert [name for name in after if "cold-pane" in name] == []
    listed = json.loads(after["built-site.json"])["files"]
    assert {*listed, "built-site.json", *mine} == set(after)


@pytest.mark.usefixtures("made_already")
def test_file_that_the_site_needs_and_no_build_wrote_is_not_replaced(
    built: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    listed = json.loads((built / "site" / "built-site.json").read_text())
    listed["files"].remove("terms.html")
    (built / "site" / "built-site.json").write_text(json.dumps(listed))
    (built / "site" / "terms.html").write_text("Mine.")
    before = contents(built / "site")
    assert build(built) == 2
    assert contents(built / "site") == before
    assert "terms.html was not written by a build, and the site has such a file." in capsys.readouterr().err


@pytest.mark.parametrize("name", ["../outside.txt", "/outside.txt"])
def test_list_that_leads_outside_is_none(project: Path, name: str) -> None:
    (project / "outside.txt").write_text("Mine.")
    (project / "site").mkdir()
    (project / "site" / "built-site.json").write_text(json.dumps({"files": [name]}))
    assert build(project) == 2
    assert (project / "outside.txt").read_text() == "Mine."


def test_web_server_can_read_what_a_cautious_builder_wrote(built_once: Path) -> None:
    site = built_once / "site"
    assert {stat.S_IMODE(each.stat().st_mode) for each in site.rglob("*") if each.is_file()} == {0o644}
    assert {stat.S_IMODE(each.stat().st_mode) for each in (site, *site.rglob("*")) if each.is_dir()} == {0o755}


def test_address_too_long_for_a_code_is_told(
    project: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SITE_URL", f"https://guide.example.invalid/{'long/' * 600}")
    assert build(project) == 1
    assert "SITE_URL has 3,030 letters; a QR code takes 300." in capsys.readouterr().err


def test_kind_of_light_has_its_place_whatever_letters_its_words_have(built: Path, odd: Path) -> None:
    kind = KIND_OF_LIGHT.search((built / VOCABULARY).read_text(encoding="utf-8"))
    assert kind is not None
    page = (odd / "what-covers-what.html").read_text(encoding="utf-8")
    assert f'<h2 id="{kind[1]}">' in page and r"\ 50% open" in page


def test_template_that_is_broken_is_told_with_its_line(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    walk = "site_overrides/pages/walk.html"
    edit(project, walk, "<body data-version", "{{ tree.no_such }}\n<body data-version")
    line = (project / walk).read_text().split("{{ tree.no_such }}")[0].count("\n") + 1
    assert build(project) == 1
    assert f"{walk}:{line}: the template is broken: " in capsys.readouterr().err


def test_two_builds_at_once_do_not_meet(built: Path) -> None:
    wanted = contents(built / "site").keys()
    call = [sys.executable, "-m", "build_tools", "--root", str(built), "build"]
    both = [subprocess.Popen(call, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) for _ in range(2)]
    assert 0 in [each.wait() for each in both]
    assert contents(built / "site").keys() == wanted
    assert left_behind(built) == []


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"<not a drawing/>", ":1:8: error: this is no XML: not well-formed (invalid token)."),
        (b"\xff\xfe<svg></svg>", ":1:1: error: the text from here on is not UTF-8."),
        (b"<title>Shed</title>", ":1:1: error: this drawing does not say its size."),
        (b'<svg width="40"><title>Shed</title></svg>', ":1:1: error: this drawing does not say its size."),
        (
            b'<svg viewBox="0 0 40 30"><title></title></svg>',
            ":1:1: error: this drawing says nothing to whoever cannot see it.",
        ),
    ],
)
def test_drawing_that_a_page_cannot_show_is_told(
    project: Path, capsys: pytest.CaptureFixture[str], content: bytes, said: str
) -> None:
    (project / "guide" / "drawings" / "shed-section.svg").write_bytes(content)
    assert build(project) == 1
    assert f"guide/drawings/shed-section.svg{said}" in capsys.readouterr().err


def test_chapter_that_is_not_utf_8_is_told_with_its_name(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (project / "guide" / "index.md").write_bytes(b"# The sh\xe9d\n")
    assert build(project) == 1
    assert "index.md" in capsys.readouterr().err


def test_title_is_text_whatever_letters_it_has(odd: Path) -> None:
    page = (odd / "trees/potting-shed.html").read_text(encoding="utf-8")
    title = page[page.index("<title>") : page.index("</title>")]
    assert unescape(title).startswith('<title>Wet: pane #2 & "lath" <1 m> up - ')
