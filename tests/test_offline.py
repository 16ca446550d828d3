"""The worker's list and the manifest."""

import json
import re
from datetime import date

from build_tools.site.offline import digest, kept, manifest, worker

TEMPLATE = "const GUIDE = /* GUIDE */ null;"
FILES = {"index.html": b"a", "walk/x.html": b"b", "guide.zip": b"c", "sw.js": b"d"}


def _list(files: dict[str, bytes]) -> dict[str, object]:
    text = worker(TEMPLATE, files, "1.2.0", date(2026, 11, 25))
    found: dict[str, object] = json.loads(re.sub(r"^const GUIDE = (.*);$", r"\1", text))
    return found


def test_worker_lists_every_kept_file_with_its_hash() -> None:
    assert _list(FILES)["files"] == {"index.html": digest(b"a"), "walk/x.html": digest(b"b")}


def test_worker_names_version_and_day() -> None:
    found = _list(FILES)
    assert (found["version"], found["revised"]) == ("1.2.0", "2026-11-25")


def test_worker_hash_changes_exactly_when_a_kept_file_changes() -> None:
    changed = {**FILES, "walk/x.html": b"other"}
    unkept = {**FILES, "guide.zip": b"other"}
    assert _list(FILES)["hash"] != _list(changed)["hash"]
    assert _list(FILES)["hash"] == _list(unkept)["hash"]


def test_kept_leaves_out_archive_and_worker() -> None:
    assert [kept(each) for each in ("guide.zip", "sw.js", "index.html")] == [False, False, True]


def test_manifest_has_what_installing_needs() -> None:
    # W3C Web Application Manifest: name, icons, start_url, display (members as named there).
    found = json.loads(manifest("Guide"))
    assert {"name", "icons", "start_url", "scope", "display"} <= set(found)
    assert {each["sizes"] for each in found["icons"]} == {"192x192", "512x512"}
