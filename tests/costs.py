"""What each file of tests costs, in processor seconds with all that it starts: `make costs`.

A plugin of pytest for one process; what sessions share is counted apart, by fixture, since any file may be its first.
"""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Generator

import pytest

FEWEST = 0.5
"""Seconds below which a file is told with all others like it."""


def spent() -> float:
    """Give the processor seconds of this process and of all that it started and saw end."""
    return sum(os.times()[:4])


class Costs:
    """What is counted while tests run: seconds and tests by file, and seconds by what is shared."""

    def __init__(self) -> None:
        self.files: Counter[str] = Counter()
        self.tests: Counter[str] = Counter()
        self.shared: Counter[str] = Counter()
        self.apart = 0.0
        self.collected = 0.0

    @pytest.hookimpl(wrapper=True)
    def pytest_collection(self) -> Generator[None, object, object]:
        before = spent()
        result = yield
        self.collected = spent() - before
        return result

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: pytest.FixtureDef[object]) -> Generator[None, object, object]:
        before, inside = spent(), self.apart
        result = yield
        if fixturedef.scope == "session":
            alone = spent() - before - (self.apart - inside)
            self.shared[fixturedef.argname] += alone
            self.apart += alone
        return result

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, object, object]:
        before, inside = spent(), self.apart
        result = yield
        file = item.nodeid.split("::")[0]
        self.files[file] += spent() - before - (self.apart - inside)
        self.tests[file] += 1
        return result

    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter) -> None:
        whole = self.collected + self.files.total() + self.shared.total()
        line = terminalreporter.write_line
        terminalreporter.section(f"processor seconds: {whole:.0f} in all, {self.collected:.1f} to collect")
        for name, seconds in self.shared.most_common():
            line(f"{seconds:7.1f}         shared {name}")
        for name, seconds in self.files.most_common():
            if seconds >= FEWEST:
                line(f"{seconds:7.1f}  {self.tests[name]:6} {name}")
        rest = [name for name, seconds in self.files.items() if seconds < FEWEST]
        seconds, tests = sum(self.files[name] for name in rest), sum(self.tests[name] for name in rest)
        line(f"{seconds:7.1f}  {tests:6} in {len(rest)} more files")


def pytest_configure(config: pytest.Config) -> None:
    config.pluginmanager.register(Costs())
