"""A small runner of workflow files for tests: jobs in order, steps in a shell, artifacts in a folder.

It knows what the project's own workflow uses of the published syntax, and refuses the rest: `needs`, `if`,
`outputs`, `env`, `id`, `working-directory`, `run` with `shell: bash`, and the four actions that check out, set up,
keep and give back. Each job has a folder of its own, as it has a machine of its own on a host.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

EXPRESSION = re.compile(r"\$\{\{\s*(.*?)\s*\}\}")
NAME = re.compile(r"'[^']*'|[a-z_]+(?:\.[a-z_-]+)+")
KNOWN = {
    "job": {"name", "needs", "if", "runs-on", "timeout-minutes", "permissions", "outputs", "steps"},
    "step": {"name", "id", "if", "uses", "with", "run", "shell", "env", "working-directory"},
}
ADDRESS = "https://code.example/artifacts/1"
"""Where the host shows what a job kept."""


class Loader(yaml.SafeLoader):
    """Reads as YAML 1.2 does, where `on` is a word."""


Loader.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in known if tag != "tag:yaml.org,2002:bool"]
    for first, known in yaml.SafeLoader.yaml_implicit_resolvers.items()
}
Loader.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile(r"^(?:true|false)$"), list("tf"))


def read_workflow(file: Path) -> Mapping[str, Any]:
    """Give a workflow file as plain values."""
    loaded: Mapping[str, Any] = yaml.load(file.read_text(encoding="utf-8"), Loader)
    return loaded


@dataclass
class Job:
    """How one job went: its result, each step's outcome by name, and all that was said."""

    result: str = "success"
    outcomes: dict[str, str] = field(default_factory=dict)
    outputs: dict[str, str] = field(default_factory=dict)
    said: str = ""


@dataclass
class Runner:
    """Runs jobs of a workflow for one merge."""

    merge: Path
    """A repository, of which the commit that is checked out is the merge."""
    environment: Mapping[str, str]
    github: Mapping[str, str]
    """The values of the context `github`, by their whole names."""
    place: Path
    """Where the jobs' folders, artifacts, summaries and outputs are kept."""

    def runs(self, workflow: Mapping[str, Any], only: tuple[str, ...] = ()) -> dict[str, Job]:
        """Run every job after those that it needs, or only those that are named."""
        jobs: dict[str, Job] = {}
        for name, asked in workflow["jobs"].items():
            assert asked.keys() <= KNOWN["job"], asked.keys() - KNOWN["job"]
            if only and name not in only:
                continue
            needed = [jobs[each] for each in ([asked["needs"]] if "needs" in asked else [])]
            known = dict(self.github)
            known |= {
                f"needs.{other}.outputs.{key}": value
                for other, job in jobs.items()
                for key, value in job.outputs.items()
            }
            fine = all(job.result == "success" for job in needed)
            jobs[name] = self._job(name, asked, known) if _holds(asked.get("if"), known, fine) else Job("skipped")
        return jobs

    def summary(self) -> str:
        """Give what stands in the summaries of all jobs."""
        file = self.place / "summary"
        return file.read_text(encoding="utf-8") if file.exists() else ""

    def _job(self, name: str, asked: Mapping[str, Any], known: dict[str, str]) -> Job:
        job = Job()
        here = self.place / name
        here.mkdir(parents=True)
        for number, step in enumerate(asked["steps"]):
            assert step.keys() <= KNOWN["step"], step.keys() - KNOWN["step"]
            title = step.get("name", step.get("uses", "")).partition("@")[0]
            if not _holds(step.get("if"), known, job.result == "success"):
                job.outcomes[title] = "skipped"
                continue
            given = self.place / f"{name}-{number}"
            run = self._uses if "uses" in step else self._step
            job.outcomes[title] = "success" if run(step, here, given, known, job) else "failure"
            job.result = job.result if job.outcomes[title] == "success" else "failure"
            if "id" in step:
                known[f"steps.{step['id']}.outcome"] = job.outcomes[title]
                for line in given.read_text(encoding="utf-8").splitlines() if given.exists() else ():
                    key, _, value = line.partition("=")
                    known[f"steps.{step['id']}.outputs.{key}"] = value
        job.outputs = {key: _filled(value, known) for key, value in asked.get("outputs", {}).items()}
        return job

    def _step(self, step: Mapping[str, Any], here: Path, given: Path, known: Mapping[str, str], job: Job) -> bool:
        """Run the script of a step as the host does with `shell: bash`."""
        assert step["shell"] == "bash" and "${{" not in step["run"], "what others can write never goes into a script"
        more = {key: _filled(str(value), known) for key, value in step.get("env", {}).items()}
        files = {"GITHUB_OUTPUT": str(given), "GITHUB_STEP_SUMMARY": str(self.place / "summary")}
        done = subprocess.run(
            ["bash", "--noprofile", "--norc", "-eo", "pipefail", "-c", step["run"]],
            cwd=here / step.get("working-directory", "."),
            env={**self.environment, **files, **more},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )
        job.said += done.stdout
        return done.returncode == 0

    def _uses(self, step: Mapping[str, Any], here: Path, given: Path, known: Mapping[str, str], job: Job) -> bool:
        asked = {key: _filled(str(value), known) for key, value in step.get("with", {}).items()}
        kept = self.place / "artifacts" / asked.get("name", "")
        match step["uses"].partition("@")[0]:
            case "actions/checkout":
                self._check_out(here / asked.get("path", "."), asked.get("ref") or "HEAD")
            case "actions/upload-artifact":
                shutil.copytree(here / asked["path"], kept)
                given.write_text(f"artifact-url={ADDRESS}\n", encoding="utf-8")
            case "actions/download-artifact":
                shutil.copytree(kept, here / asked["path"])
            case other:
                assert other == "actions/setup-python", other
        return True

    def _check_out(self, place: Path, ref: str) -> None:
        commit = subprocess.run(
            ["git", "-C", self.merge, "rev-parse", ref], check=True, capture_output=True, text=True
        ).stdout.strip()
        for words in (("clone", "--quiet", "--no-checkout", self.merge, place), ("-C", place, "checkout", commit)):
            subprocess.run(["git", *words], check=True, capture_output=True)


def _filled(text: str, known: Mapping[str, str]) -> str:
    return EXPRESSION.sub(lambda found: known.get(found[1], ""), text)


def _holds(condition: str | None, known: Mapping[str, str], fine: bool) -> bool:
    """Judge an `if`: without a status function in it, it holds only while all went well."""
    if condition is None:
        return fine
    inner = EXPRESSION.sub(lambda found: found[1], condition)
    words = NAME.sub(lambda found: found[0] if found[0].startswith("'") else repr(known.get(found[0], "")), inner)
    words = words.replace("!cancelled()", "True").replace("&&", " and ")
    assert re.fullmatch(r"(?:'[^']*'|True|and|==|!=|[ ()])*", words), f"this runner does not know: {condition}"
    return bool(eval(words)) and (fine or "cancelled()" in inner)
