"""The whole build from the shell: what it writes, and what it leaves alone when something is wrong."""

from __future__ import annotations

import errno
import fcntl
import json
import os
import re
import stat
import subprocess
import sys
import time
from html import unescape
from pathlib import Path

import pytest
from guides import ROOT, edit, record, with_site

from build_tools.__main__ import main
from build_tools.publish import clear_up

COLD = "trees/cold-pane.yaml"


@pytest.fixture
def project(good: Path) -> Path:
    """The good guide with the site's templates and one chapter, so that it can be built."""
    return with_site(good)


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


def test_build_for_a_published_address_puts_it_on_every_checklist(
    project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SITE_URL", "https://guide.example.invalid/leaks/")
    assert build(project) == 0
    sheet = (project / "site" / "paper" / "cold-pane.html").read_text(encoding="utf-8")
    assert "https://guide.example.invalid/leaks/walk/cold-pane.html?v=" in sheet
    assert 'class="code"><svg' in sheet
    chapter = (project / "site" / "index.html").read_text(encoding="utf-8")
    assert '<link rel="canonical" href="https://guide.example.invalid/leaks/index.html">' in chapter


def test_titles_that_look_like_markup_are_shown_and_run_nothing(project: Path) -> None:
    title = "A shed <script>document.title = 1</script>"
    edit(project, COLD, "title: The pane is wet in dry weather", f"title: {title}")
    edit(project, "trees/tables/gates.yaml", "title: Going up the ladder at the shed", f"title: {title}")
    record(project)
    assert build(project) == 0
    shown = [page for page in (project / "site").rglob("*.html") if "document.title" in page.read_text("utf-8")]
    assert shown != []
    assert [page.name for page in shown if "<script>document.title" in page.read_text("utf-8")] == []


def test_same_sources_give_the_same_bytes(project: Path) -> None:
    build(project)
    first = contents(project / "site")
    build(project)
    again = contents(project / "site")
    # MkDocs writes the day of the build into the sitemap, which the guide does not keep.
    assert [name for name in first if first[name] != again[name] and "sitemap" not in name] == []


def test_failed_check_leaves_the_last_site_whole(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    build(project)
    before = contents(project / "site")
    edit(project, COLD, "starts-at", "start-at")
    assert build(project) == 1
    assert contents(project / "site") == before
    assert "The site that was there is untouched." in capsys.readouterr().err


def test_fault_in_the_finished_site_leaves_the_last_one_whole(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    build(project)
    before = contents(project / "site")
    chapter = project / "guide" / "index.md"
    chapter.write_text(f'{chapter.read_text()}\n<a href="walk/nowhere.html">Lost</a>\n')
    assert build(project) == 1
    assert contents(project / "site") == before
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


def test_disk_that_is_full_is_told_and_leaves_the_last_site_whole(
    project: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    build(project)
    before = contents(project / "site")

    def full(site: Path) -> None:
        raise OSError(errno.ENOSPC, "No space left on device", str(site))

    monkeypatch.setattr("build_tools.publish.prove", full)
    assert build(project) == 1
    assert "No space left on device.\nThe site that was there is untouched." in capsys.readouterr().err
    assert contents(project / "site") == before
    assert left_behind(project) == []


@pytest.mark.parametrize("fault", [KeyboardInterrupt(), PermissionError(errno.EACCES, "Permission denied", "site")])
def test_exchange_that_is_broken_off_puts_the_last_site_back(
    project: Path, monkeypatch: pytest.MonkeyPatch, fault: BaseException
) -> None:
    build(project)
    before = contents(project / "site")
    rename = Path.rename

    def broken(path: Path, target: Path) -> Path:
        if path.name == "new":
            raise fault
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", broken)
    assert build(project) == (130 if isinstance(fault, KeyboardInterrupt) else 1)
    assert contents(project / "site") == before
    assert left_behind(project) == []


def test_build_killed_between_its_two_renames_is_mended_by_the_next(project: Path) -> None:
    build(project)
    before = contents(project / "site")
    left = project / ".site.being-built-killed"
    (left / "new").mkdir(parents=True)
    (project / "site").rename(left / "old")
    edit(project, COLD, "starts-at", "start-at")
    assert build(project) == 1
    assert contents(project / "site") == before
    assert left_behind(project) == []


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


def test_what_no_build_wrote_stays_in_the_folder_of_a_site(project: Path) -> None:
    site = project / "site"
    build(project)
    (site / ".git" / "refs").mkdir(parents=True)
    (site / "photos").mkdir()
    mine = {name: b"Mine." for name in (".git/HEAD", "CNAME", ".nojekyll", "photos/one.png", "walk/notes.txt")}
    for name, content in mine.items():
        (site / name).write_bytes(content)
    edit(project, COLD, "title: The pane is wet in dry weather", "title: The pane is wet when it is dry")
    (project / COLD).rename(project / "trees" / "wet-pane.yaml")
    for path in ("trees/potting-shed.yaml", "trees/remedies/hang-the-tile-back.yaml"):
        file = project / path
        file.write_text(file.read_text(encoding="utf-8").replace("cold-pane", "wet-pane"), encoding="utf-8")
    record(project)
    assert build(project) == 0
    after = contents(site)
    assert {name: after[name] for name in mine} == mine
    assert (site / ".git" / "refs").is_dir()
    assert b"The pane is wet when it is dry" in after["walk/wet-pane.html"]
    assert [name for name in after if "cold-pane" in name] == []
    listed = json.loads(after["built-site.json"])["files"]
    assert {*listed, "built-site.json", *mine} == set(after)


def test_file_that_the_site_needs_and_no_build_wrote_is_not_replaced(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    build(project)
    listed = json.loads((project / "site" / "built-site.json").read_text())
    listed["files"].remove("terms.html")
    (project / "site" / "built-site.json").write_text(json.dumps(listed))
    (project / "site" / "terms.html").write_text("Mine.")
    before = contents(project / "site")
    assert build(project) == 2
    assert contents(project / "site") == before
    assert "terms.html was not written by a build, and the site has such a file." in capsys.readouterr().err


@pytest.mark.parametrize("name", ["../outside.txt", "/outside.txt"])
def test_list_that_leads_outside_is_none(project: Path, name: str) -> None:
    (project / "outside.txt").write_text("Mine.")
    (project / "site").mkdir()
    (project / "site" / "built-site.json").write_text(json.dumps({"files": [name]}))
    assert build(project) == 2
    assert (project / "outside.txt").read_text() == "Mine."


def test_web_server_can_read_what_a_cautious_builder_wrote(project: Path) -> None:
    before = os.umask(0o077)
    try:
        assert build(project) == 0
    finally:
        os.umask(before)
    site = project / "site"
    assert {stat.S_IMODE(each.stat().st_mode) for each in site.rglob("*") if each.is_file()} == {0o644}
    assert {stat.S_IMODE(each.stat().st_mode) for each in (site, *site.rglob("*")) if each.is_dir()} == {0o755}


def test_address_too_long_for_a_code_is_told(
    project: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SITE_URL", f"https://guide.example.invalid/{'long/' * 600}")
    assert build(project) == 1
    assert "SITE_URL has 3,030 letters; a QR code takes 300." in capsys.readouterr().err


def test_kind_of_light_has_its_place_whatever_letters_its_words_have(project: Path) -> None:
    table = project / "trees/tables/vocabulary.yaml"
    text = table.read_text(encoding="utf-8")
    kind = re.search(r"^light:\n  ([a-z-]+): (.*)$", text, re.M)
    assert kind is not None
    found = f"found-on:\n  {kind[1]}:\n    - slate\n"
    table.write_text(text.replace(kind[0], rf"{kind[0]} \ 50% open") + found, encoding="utf-8")
    record(project)
    assert build(project) == 0
    page = (project / "site" / "what-covers-what.html").read_text(encoding="utf-8")
    assert f'<h2 id="{kind[1]}">' in page and "50% open" in page


def test_template_that_is_broken_is_told_with_its_line(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    walk = "site_overrides/pages/walk.html"
    edit(project, walk, "<body data-version", "{{ tree.no_such }}\n<body data-version")
    line = (project / walk).read_text().split("{{ tree.no_such }}")[0].count("\n") + 1
    assert build(project) == 1
    assert f"{walk}:{line}: the template is broken: " in capsys.readouterr().err


def test_two_builds_at_once_do_not_meet(project: Path) -> None:
    build(project)
    wanted = contents(project / "site").keys()
    call = [sys.executable, "-m", "build_tools", "--root", str(project), "build"]
    both = [subprocess.Popen(call, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) for _ in range(2)]
    assert 0 in [each.wait() for each in both]
    assert contents(project / "site").keys() == wanted
    assert left_behind(project) == []


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


def test_title_is_text_whatever_letters_it_has(project: Path) -> None:
    edit(project, COLD, "title: The pane is wet in dry weather", 'title: >-\n  Wet: pane #2 & "lath" <1 m> up')
    assert build(project) == 0
    page = (project / "site/trees/cold-pane.html").read_text(encoding="utf-8")
    title = page[page.index("<title>") : page.index("</title>")]
    assert unescape(title).startswith('<title>Wet: pane #2 & "lath" <1 m> up - ')
