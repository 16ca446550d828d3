"""The live preview: what is edited shows, a mistake shows in its place, and both mend themselves."""

from __future__ import annotations

import re
import socket
from collections.abc import Iterator
from contextlib import ExitStack
from html import unescape
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from guides import ROOT, edit, good_guide, report_of, with_program, with_site
from previews import Preview

from build_tools.preview.program import is_of_program
from build_tools.sources.data_tables import table_path

SHED = "trees/potting-shed.yaml"
WALK = "walk/potting-shed.html"
QUESTION = "Does it drip only in rain?"
NO_FAULT = (130, "\nStopped.\n")


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Path, Preview]]:
    """One preview for all tests, with the project that it shows."""
    root = with_site(good_guide(tmp_path_factory.mktemp("previewed") / "guide"))
    with Preview(root) as preview:
        yield root, preview
        code, _, complained = preview.stop()
    assert (code, complained) == NO_FAULT
    assert {each.name for each in root.iterdir()} - {".cache"} == {
        "LICENSE",
        "guide",
        "mkdocs.yml",
        "site_overrides",
        "trees",
    }


@pytest.fixture
def project(shown: tuple[Path, Preview]) -> Iterator[Path]:
    """The project; what a test edits in it is put back."""
    root, preview = shown
    before = {each: each.read_bytes() for each in root.rglob("*") if each.is_file() and ".cache" not in each.parts}
    yield root
    for file, content in before.items():
        if not file.exists() or file.read_bytes() != content:
            file.write_bytes(content)
    preview.until(QUESTION, preview.message, WALK)
    preview.until("<h1>The shed", lambda page: preview.message(page).replace(' id="the-shed"', ""), "index.html")


@pytest.fixture
def preview(shown: tuple[Path, Preview]) -> Preview:
    return shown[1]


EDITS = (
    (SHED, QUESTION, "Does it drip on rainy days only?", (WALK, "trees/potting-shed.html")),
    ("trees/remedies/catch-the-drip.yaml", "Catch the drip", "Catch that drip", ("remedies/catch-the-drip.html",)),
    ("trees/tables/terms.yaml", "How far a tile lies", "How much of a tile lies", ("terms.html",)),
    ("guide/index.md", "The shed", "The old shed", ("index.html",)),
    ("guide/drawings/shed-section.svg", "The shed, cut through", "The shed, cut in two", (WALK,)),
    ("site_overrides/pages/paper.html", "<title>Checklist", "<title>A list", ("paper/potting-shed.html",)),
    ("site_overrides/main.html", "Nothing you type", "Not a word that you type", ("index.html", "terms.html")),
    ("site_overrides/styles/paper.css", "@page", "/* another look */\n@page", ("styles/paper.css",)),
    ("site_overrides/scripts/reckon.js", '"use strict";', '"use strict"; /* quicker */', ("scripts/reckon.js",)),
)


def test_every_kind_of_edit_shows(project: Path, preview: Preview) -> None:
    for file, old, new, addresses in EDITS:
        assert [each for each in addresses if new in preview.get(each)] == []
        text = (project / file).read_text(encoding="utf-8")
        (project / file).write_text(text.replace(old, new, 1), encoding="utf-8")
    for _, _, new, addresses in EDITS:
        for address in addresses:
            preview.until(new, preview.get, address)


def test_mistakes_stand_in_front_of_every_page_in_the_words_of_check(project: Path, preview: Preview) -> None:
    edit(project, SHED, "starts-at: drip-in-rain", "starts-at: drip-in-rein")
    edit(project, "trees/cold-pane.yaml", "starts-at", "start-<at>")
    seen = preview.until("3 errors", preview.message, WALK)
    words = [re.sub(r"^Line \d+: ", "", line.strip()) for line in report_of(project).splitlines() if line]
    assert len(words) > 6
    plain = re.sub(r"</?(?:span|mark|h2|p|pre|li|ol)\b[^>]*>", "", seen)
    assert [each for each in words if each not in plain] == []
    assert f"{SHED}:9:1: error: " in plain
    assert "3 errors" in preview.message("index.html")
    assert "start-&lt;at&gt;" in preview.raw_message(WALK) and "<at>" not in preview.raw_message(WALK)


def test_last_good_page_stays_behind_a_mistake_until_it_is_mended(project: Path, preview: Preview) -> None:
    edit(project, SHED, QUESTION, f"{QUESTION} {'Or does it not? ' * 9}")
    edit(project, SHED, "starts-at: drip-in-rain", "starts-at: drip-in-rein")
    preview.until("drip-in-rein", preview.message, WALK)
    assert QUESTION in preview.get(WALK) and "Or does it not?" not in preview.get(WALK)
    edit(project, SHED, "starts-at: drip-in-rein", "starts-at: drip-in-rain")
    preview.until("Or does it not?", preview.get, WALK)


@pytest.mark.parametrize(
    ("file", "old", "new", "said"),
    [
        ("site_overrides/main.html", "{% block footer %}", "{% blok footer %}", "site_overrides/main.html:16: "),
        ("mkdocs.yml", "plugins:\n", "plugins: [\n", "mkdocs.yml"),
        ("mkdocs.yml", "  - trees\n", "", 'mkdocs.yml: the plugin "trees" makes the pages.'),
        ("mkdocs.yml", "name: material\n", "name: immaterial\n", "immaterial"),
        ("guide/index.md", "walk/potting-shed.html", "walk/nowhere.md", "walk/nowhere.md"),
        ("guide/drawings/shed-section.svg", "<svg", "<gsv", "this is no XML: mismatched tag"),
    ],
)
def test_whatever_else_is_broken_is_told_in_the_page(
    project: Path, preview: Preview, file: str, old: str, new: str, said: str
) -> None:
    edit(project, file, old, new)
    seen = preview.until(said, preview.message, "index.html")
    assert "Traceback" not in seen and "The shed" in preview.get("index.html")


def test_template_that_fails_at_one_page_is_told_there_alone(project: Path, preview: Preview) -> None:
    edit(project, "site_overrides/pages/walk.html", "<body data-version", "{{ tree.no_such }}\n<body data-version")
    seen = preview.until("no_such", preview.message, WALK)
    assert re.search(r"site_overrides/pages/walk.html:\d+: the template is broken: .*'no_such'\.", seen)
    assert "Checklist" in preview.message("paper/potting-shed.html")


def test_chapter_that_is_not_utf_8_is_told_with_its_name(project: Path, preview: Preview) -> None:
    (project / "guide" / "index.md").write_bytes(b"# The sh\xe9d\n")
    seen = preview.until("the text from here on is not UTF-8", preview.message, WALK)
    assert "guide/index.md:1:9:" in seen and "Traceback" not in seen


def test_page_that_is_gone_is_told_and_comes_back(project: Path, preview: Preview) -> None:
    chapter = project / "guide" / "index.md"
    text = chapter.read_text()
    (project / "guide" / "other.md").write_text("# Another chapter\n")
    chapter.write_text(f"{text}\n[Another](other.md)\n")
    edit(project, "mkdocs.yml", "  - index.md\n", "  - index.md\n  - other.md\n")
    preview.until("Another chapter", preview.get, "other.html")
    (project / "guide" / "other.md").unlink()
    chapter.write_text(text)
    edit(project, "mkdocs.yml", "  - other.md\n", "")
    preview.until("Nothing stands at <code>/other.html</code>", preview.message, "other.html")
    assert "The shed" in preview.message("index.html")


def test_preview_saves_no_guide_on_a_phone(preview: Preview) -> None:
    assert preview.get("scripts/offline.js") == ""
    assert "unregister()" in preview.get("sw.js")


def asked(preview: Preview, method: str = "GET", **headers: str) -> tuple[int, bytes]:
    connection = HTTPConnection(urlsplit(preview.address).netloc, timeout=30)
    connection.request(method, "/index.html", headers=headers)
    answer = connection.getresponse()
    return answer.status, answer.read()


def test_preview_answers_to_the_names_of_its_machine_only(preview: Preview) -> None:
    port = urlsplit(preview.address).port
    names = [
        f"127.0.0.1:{port}",
        f"localhost:{port}",
        "LOCALHOST",
        f"[::1]:{port}",
        "evil.example",
        "",
        "[",
        "127.0.0.1.evil.example",
    ]
    assert [asked(preview, Host=name)[0] for name in names] == [200] * 4 + [421] * 4


def test_preview_answers_head_without_the_page(preview: Preview) -> None:
    assert asked(preview, "HEAD") == (200, b"")


def test_preview_takes_so_many_connections_and_goes_on(preview: Preview) -> None:
    address = urlsplit(preview.address)
    assert address.hostname and address.port
    with ExitStack() as open_ones:
        for _ in range(100):
            silent = socket.create_connection((address.hostname, address.port), timeout=30)
            open_ones.enter_context(silent)
        assert asked(preview)[0] == 200
        # A thread for each that is let in, and those that watch the files.
        assert len(list(Path(f"/proc/{preview.process.pid}/task").iterdir())) < 64


def test_preview_begins_with_a_mistake_too_and_mends_itself(good: Path) -> None:
    root = with_site(good)
    edit(root, SHED, "starts-at: drip-in-rain", "starts-at: drip-in-rein")
    with Preview(root) as preview:
        assert 'Did you mean "drip-in-rain"?' in unescape(preview.get(WALK))
        edit(root, SHED, "starts-at: drip-in-rein", "starts-at: drip-in-rain")
        preview.until(QUESTION, preview.get, WALK)
        code, said, complained = preview.stop()
    assert (code, complained) == NO_FAULT
    assert said.splitlines() == ["There is a mistake: the page shows it.", "Shown."]


@pytest.fixture
def program(good: Path) -> Path:
    """A project that holds its own copy of the program, which a test may edit."""
    return with_site(with_program(good))


def test_edited_program_starts_anew_at_the_same_address_and_its_mistake_is_told(program: Path) -> None:
    file = "build_tools/site/pages.py"
    with Preview(program, program) as preview:
        edit(program, file, '"terms": "Terms"', '"terms": "Words"')
        preview.until("<title>Words", preview.get, "terms.html")
        edit(program, file, '"terms": "Words",', '"terms": "Words"; oh')
        seen = preview.until("SyntaxError", preview.message, "terms.html")
        assert re.search(rf"{file}:\d+: SyntaxError: ", seen)
        edit(program, file, '"terms": "Words"; oh', '"terms": Wards,')
        seen = preview.until("NameError", preview.message, "terms.html")
        assert re.search(rf"{file}:\d+: NameError: name 'Wards' is not defined", seen)
        edit(program, SHED, QUESTION, f"{QUESTION} Or not?")
        preview.until("Or not?", preview.get, WALK)
        assert "NameError" in preview.message(WALK)
        assert "<title>Words" in preview.get("terms.html")
        edit(program, file, '"terms": Wards,', '"terms": "Wards",')
        preview.until("<title>Wards", preview.get, "terms.html")
        code, _, complained = preview.stop()
    assert (code, complained) == NO_FAULT


def test_data_table_is_read_like_any_other_source(project: Path, preview: Preview) -> None:
    metals, page = table_path("metals"), "reckon/thermal-movement.html"
    edit(project, metals, "expansion-um-m-k: 29.7", "expansoin-um-m-k: 33.3")
    preview.until('"expansoin-um-m-k" is not a key that belongs here.', preview.message, page)
    edit(project, metals, "expansoin-um-m-k: 33.3", "expansion-um-m-k: 33.3")
    preview.until("<td>33.3</td>", preview.get, page)


def test_program_is_its_modules() -> None:
    files = ("build_tools/formulas/covering/slope.py", table_path("metals"), "build_tools/preview/live.js")
    assert [is_of_program(ROOT / each) for each in files] == [True, False, False]


def test_port_in_use_is_told_in_one_sentence(good: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        with Preview(good, port=port) as preview:
            code, said, complained = preview.stop()
    wanted = f"127.0.0.1, port {port}: Address already in use. Name another one with --port or --host.\n"
    assert (code, said, complained) == (2, "", wanted)


def test_port_that_there_is_not_is_told(good: Path) -> None:
    with Preview(good, port=70000) as preview:
        code, _, complained = preview.stop()
    assert (code, complained) == (
        2,
        "127.0.0.1, port 70000: there is no such port. Name another one with --port or --host.\n",
    )
