"""No text of the sources becomes markup: every field is planted with some, and none of it is alive in any page."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from html.parser import HTMLParser
from itertools import count
from pathlib import Path
from typing import Any

import pytest
import yaml
from guides import ROOT, Plain, good_guide, with_site
from pydantic import TypeAdapter, ValidationError

from build_tools.model import every_value
from build_tools.model.problems import KeyPath
from build_tools.sources.compose import compose
from build_tools.sources.data_tables import DATA
from build_tools.sources.library import REMEDY, TABLES, TREE, table_path
from build_tools.sources.source import SourceFile, read_source

SEED = "\"'></script><planted-{0} onclick=planted()><script>planted({0})</script>"
SEEN = re.compile(r"planted\((\d+)\)")
NAMES = {"suits", "assumes", "establishes", "given", "accept", "as"}
"""Keys whose text names something, though it is typed as any text."""


class _Page(HTMLParser):
    """What of the seeds is alive in a page, and what of them is only shown."""

    def __init__(self) -> None:
        super().__init__()
        self.alive: list[str] = []
        self.shown: set[str] = set()
        self._data = False
        self._script = False

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        values = dict(attributes)
        self._script, self._data = tag == "script", values.get("type") == "application/json"
        if tag.startswith("planted"):
            self.alive.append(f"<{tag}>")
        for name, value in values.items():
            self.shown.update(SEEN.findall(value or ""))
            if name.startswith("on") or (name in ("href", "src") and (value or "").lower().startswith("javascript:")):
                self.alive.append(f"{name}={value}")

    def handle_endtag(self, tag: str) -> None:
        self._script = self._script and tag != "script"

    def handle_data(self, text: str) -> None:
        self.shown.update(SEEN.findall(text))
        if self._script and self._data:
            json.loads(text)
        elif self._script and "planted" in text:
            self.alive.append(text)


def kind_of(path: str) -> TypeAdapter[Any] | None:
    name = Path(path).stem
    if "/tables/" in path:
        return {**TABLES, **DATA}.get(name) if name not in ("versions", "settings") else None
    return REMEDY if "/remedies/" in path else TREE


def plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: plain(each) for key, each in value.items()}
    return [plain(each) for each in value] if isinstance(value, tuple) else value


def with_text(value: Any, texts: dict[KeyPath, str], keys: KeyPath = ()) -> Any:
    if isinstance(value, dict):
        return {key: with_text(each, texts, (*keys, key)) for key, each in value.items()}
    if isinstance(value, tuple):
        return tuple(with_text(each, texts, (*keys, number)) for number, each in enumerate(value))
    return texts.get(keys, value)


def planted(source: SourceFile, kind: TypeAdapter[Any], numbers: Iterator[int]) -> tuple[Plain, set[int]]:
    """Plant every text of a file that may be any text, with the numbers of the seeds."""
    composed, _ = compose(source)
    assert composed is not None
    seeds = {
        keys: (value, next(numbers))
        for keys, value in every_value(composed.value)
        if isinstance(value, str) and not NAMES & set(keys)
    }
    while True:
        texts = {keys: value + SEED.format(number) for keys, (value, number) in seeds.items()}
        value = with_text(composed.value, texts)
        try:
            kind.validate_python(value)
        except ValidationError as error:
            refused = [tuple(each for each in fault["loc"]) for fault in error.errors()]
            gone = [keys for keys in seeds if any(set(map(str, keys)) <= set(map(str, loc)) for loc in refused)]
            assert gone, refused
            for keys in gone:
                del seeds[keys]
            continue
        return plain(value), {number for _, number in seeds.values()}


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, set[int]]:
    """The small guide with the program and its own data tables, planted and built."""
    root = with_site(good_guide(tmp_path_factory.mktemp("planted") / "guide"))
    shutil.copytree(ROOT / "build_tools", root / "build_tools", ignore=shutil.ignore_patterns("__pycache__"))
    for name in DATA:
        table = (ROOT / table_path(name)).read_text(encoding="utf-8")
        (root / table_path(name)).write_text(re.sub(r"\bsource: .*", "source: shed-notes", table), encoding="utf-8")
    numbers, seeds = count(1), set[int]()
    for file in sorted((root / "trees").rglob("*.yaml")):
        kind = kind_of(file.relative_to(root).as_posix())
        if kind:
            source = read_source(root, file)
            assert isinstance(source, SourceFile)
            value, own = planted(source, kind, numbers)
            seeds |= own
            file.write_text(yaml.safe_dump(value, allow_unicode=True, sort_keys=False, width=10**9), encoding="utf-8")
    for command in ("record", "build"):
        call = [sys.executable, "-m", "build_tools", "--root", str(root), command]
        done = subprocess.run(call, cwd=root, capture_output=True, text=True)
        assert done.returncode == 0, done.stderr
    return root / "site", seeds


def test_no_text_of_the_sources_is_alive_in_any_page(project: tuple[Path, set[int]]) -> None:
    site, seeds = project
    alive: dict[str, list[str]] = {}
    shown: set[str] = set()
    for file in sorted(site.rglob("*.html")):
        page = _Page()
        page.feed(file.read_text(encoding="utf-8"))
        shown |= page.shown
        if page.alive:
            alive[file.relative_to(site).as_posix()] = page.alive
    assert alive == {}
    assert len(seeds) > 300
    assert len({int(each) for each in shown} & seeds) > 0.9 * len(seeds)
