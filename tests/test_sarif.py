"""`check --format sarif` against the JSON Schema of OASIS SARIF 2.1.0, vendored in tests/sarif."""

import hashlib
import json
import re
from pathlib import Path

import pytest
from guides import broken_guide, good_guide
from jsonschema import Draft4Validator

from build_tools.__main__ import main
from build_tools.model.problems import RULES

FOLDER = Path(__file__).with_name("sarif")
SCHEMA = FOLDER / "sarif-2.1.0-rtm.5.json"
VALIDATOR = Draft4Validator(json.loads(SCHEMA.read_text(encoding="utf-8")))
SEVERAL = ("ungated", "deep", "circle.through-trees", "not-text", "missing-file", "unexpected-file", "swallowed-text")
"""Errors and warnings, of records and of files that cannot be read."""


def log_of(root, capsys):
    main(["--root", str(root), "check", "--format", "sarif"])
    return json.loads(capsys.readouterr().out)


def faults(log):
    return [f"{each.json_path}: {each.message}" for each in VALIDATOR.iter_errors(log)]


def test_schema_is_the_one_that_was_vendored():
    said = re.search(r"SHA-256: ([0-9a-f]{64})", (FOLDER / "README.md").read_text(encoding="utf-8"))
    assert hashlib.sha256(SCHEMA.read_bytes()).hexdigest() == said[1]
    Draft4Validator.check_schema(VALIDATOR.schema)


@pytest.mark.parametrize("name", SEVERAL)
def test_log_of_a_broken_guide_is_valid(name, tmp_path, capsys):
    log = log_of(broken_guide(name, tmp_path), capsys)
    assert faults(log) == []
    assert name.split(".")[0] in {result["ruleId"] for result in log["runs"][0]["results"]}


def test_log_of_a_good_guide_is_valid_and_names_every_rule(tmp_path, capsys):
    log = log_of(good_guide(tmp_path), capsys)
    assert faults(log) == [] and log["runs"][0]["results"] == []
    assert {rule["id"] for rule in log["runs"][0]["tool"]["driver"]["rules"]} == set(RULES)


@pytest.mark.parametrize(
    "spoil",
    [
        lambda log: log.pop("version"),
        lambda log: log["runs"][0].pop("tool"),
        lambda log: log["runs"][0]["results"][0].pop("message"),
        lambda log: log["runs"][0]["results"][0].update(level="advice"),
        lambda log: log["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["region"].update(startLine=0),
        lambda log: log["runs"][0].update(columns="letters"),
    ],
    ids=["no version", "no tool", "no message", "odd level", "line 0", "odd key"],
)
def test_schema_refuses_a_spoilt_log(spoil, tmp_path, capsys):
    log = log_of(broken_guide("ungated", tmp_path), capsys)
    spoil(log)
    assert faults(log) != []
