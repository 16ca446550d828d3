"""How hard the guide reads: what is counted, and that no tree, remedy or chapter asks too much."""

import json

import pytest
from guides import ROOT, the_checked

from build_tools.__main__ import main
from build_tools.proof.reading import measured
from build_tools.shell.readability import chapter_prose, readability

OLDEST = 12
"""The reading age that no tree, remedy or chapter as a whole may go over: a choice of this guide."""
DRAFT = the_checked().draft
CHAPTERS = {path.name: path.read_text(encoding="utf-8") for path in sorted((ROOT / "guide").glob("*.md"))}


def test_chapter_is_read_without_its_code_tables_and_drawings():
    text = """# A title is not read

Lay the [underlay](terms.md) **flat**.
It laps.

![A picture of it](drawings/lap.svg)

| Head | Cell |
| --- | --- |

```yaml
key: value
```

- One `code` item.
- Two items.
"""
    assert chapter_prose(text) == ("Lay the underlay flat. It laps.", "One item.", "Two items.")


def test_passages_are_measured_together():
    both = measured(("The tile is whole.", "Look"))
    assert (both.words, both.sentences, both.longest) == (5, 2, 4)


@pytest.mark.parametrize("each", readability(DRAFT, CHAPTERS), ids=lambda each: each.path)
def test_no_source_asks_too_much_of_its_reader(each):
    assert 0 < each.measured.age <= OLDEST


@pytest.mark.usefixtures("proved_once")
def test_report_names_every_source_the_hardest_first(capsys):
    assert main(["--root", str(ROOT), "reading", "--format", "json"]) == 0
    rows = json.loads(capsys.readouterr().out)["sources"]
    ages = [each["reading_age"] for each in rows]
    assert ages == sorted(ages, reverse=True)
    assert len(rows) == len(DRAFT.trees) + len(DRAFT.remedies) + len(CHAPTERS)


@pytest.mark.usefixtures("proved_once")
def test_report_in_words_says_the_same(capsys):
    assert main(["--root", str(ROOT), "reading"]) == 0
    first = capsys.readouterr().out.splitlines()[1].split()
    hardest = readability(DRAFT, {f"guide/{name}": text for name, text in CHAPTERS.items()})[0]
    assert first == [
        f"{hardest.measured.age:.1f}",
        f"{hardest.measured.words / hardest.measured.sentences:.1f}",
        str(hardest.measured.longest),
        str(hardest.measured.words),
        hardest.path,
    ]
