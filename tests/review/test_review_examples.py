"""One edit each, with the whole review as a person reads it: in a terminal, and as a comment on a pull request.

Each edit stands in tests/review/edits, with its review beside it as text and as Markdown.
"""

from pathlib import Path

import pytest
from guides import apply, edits_of, good_guide, record
from reviewed import read

from build_tools.review.compare import review
from build_tools.review.record.changes import Review
from build_tools.review.versions.matching import Match
from build_tools.review.words.as_json import as_json
from build_tools.review.words.links import links
from build_tools.review.words.markdown import as_markdown
from build_tools.review.words.naming import names_of
from build_tools.review.words.outline import outline
from build_tools.review.words.text import as_text

EDITS = Path(__file__).parent / "edits"
NAMES = sorted(each.stem for each in EDITS.glob("*.edit"))
FORMATS = {
    "txt": lambda found, names: as_text(outline(found, names)),
    "md": lambda found, names: as_markdown(outline(found, names), links(found, "", in_project=True)),
}
FALLEN = {"caution-dropped", "gate-condition-removed", "gate-moved-later", "signal-lowered"}
GRAVE = {*FALLEN, "exit-led-elsewhere", "given-changed", "materials-changed"}
STEPS = {
    "major": {*FALLEN, "exit-led-elsewhere"},
    "minor": {"covering-reworded", "given-changed", "materials-changed", "question-reworded", "step-renamed"},
    "patch": {"text-only"},
}


def versions_of(name, folder):
    before, after = good_guide(folder / "before"), good_guide(folder / "after")
    for change in edits_of((EDITS / f"{name}.edit").read_text(encoding="utf-8")):
        apply(after, change)
    record(after)
    return read(before, "main"), read(after, "working tree")


def review_of(name, folder):
    return review(*versions_of(name, folder))


@pytest.mark.parametrize("ending", FORMATS)
@pytest.mark.parametrize("name", NAMES)
def test_review_reads_as_expected(name, ending, tmp_path, request):
    before, after = versions_of(name, tmp_path)
    names = names_of(Match(before.draft, after.draft))
    said = FORMATS[ending](review(before, after), names) + "\n"
    file = EDITS / f"{name}.{ending}"
    if request.config.getoption("--update-expected"):
        file.write_text(said, encoding="utf-8")
    assert said == file.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", NAMES)
def test_review_is_grave_and_raises_the_version_as_it_should(name, tmp_path):
    found = review_of(name, tmp_path)
    assert (found.grave, name in STEPS[found.step]) == (name in GRAVE, True)


@pytest.mark.parametrize("name", NAMES)
def test_json_is_read_back_as_it_was(name, tmp_path):
    found = review_of(name, tmp_path)
    assert Review.model_validate_json(as_json(found)) == found
