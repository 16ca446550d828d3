"""The whole build from the shell: what it writes, and what it leaves alone when something is wrong."""

from __future__ import annotations

import errno
import subprocess
import sys
from html import unescape
from pathlib import Path

import pytest
from guides import ROOT, edit, record, with_site

from build_tools.__main__ import main

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
    left = project / ".site-killed"
    (left / "new").mkdir(parents=True)
    (project / "site").rename(left / "old")
    edit(project, COLD, "starts-at", "start-at")
    assert build(project) == 1
    assert contents(project / "site") == before
    assert left_behind(project) == []


def test_folder_of_a_build_that_is_at_work_is_left_alone(project: Path) -> None:
    build(project)
    (project / ".site-at-work" / "new").mkdir(parents=True)
    assert build(project) == 0
    assert left_behind(project) == [".site-at-work"]


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
        (b"<not a drawing/>", "is no SVG in UTF-8. Save it as plain SVG."),
        (b"\xff\xfe<svg></svg>", "is no SVG in UTF-8. Save it as plain SVG."),
        (b'<svg width="40"><title>Shed</title></svg>', "has no size."),
        (b'<svg viewBox="0 0 40 30"><title></title></svg>', "says nothing to who cannot see it."),
    ],
)
def test_drawing_that_a_page_cannot_show_is_told(
    project: Path, capsys: pytest.CaptureFixture[str], content: bytes, said: str
) -> None:
    (project / "guide" / "drawings" / "shed-section.svg").write_bytes(content)
    assert build(project) == 1
    assert f"guide/drawings/shed-section.svg {said}" in capsys.readouterr().err


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
