"""Diagrams as DOT text to SVG, by a Graphviz engine: all that are new in one process, the rest from the cache.

The engine is `graphviz-pure`, which is pinned and gives the same bytes everywhere. DIAGRAM_ENGINE=dot in
the environment takes the system's Graphviz instead. What one engine drew is never served for another.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path

SETTING = "DIAGRAM_ENGINE"
ENGINES: Mapping[str, str] = {
    "graphviz-pure": "install what requirements.lock names, as `make site` does",
    "dot": f"install Graphviz, or unset {SETTING} to use graphviz-pure",
}
"""Each engine that may be chosen, the default first, with what to do where it is missing."""


class EngineMissing(RuntimeError):
    """The chosen engine is unknown or not installed; the message is one sentence that says what to do."""


class DrawingFailed(RuntimeError):
    """The engine is there and did not draw; the message is what it said."""


def draw(dots: Mapping[str, str], cache: Path) -> Mapping[str, str]:
    """Draw each DOT text as SVG, under the name it came with.

    Raises EngineMissing, and DrawingFailed where the engine refuses a text.
    """
    program = _program()
    engine = _run([program, "-V"])
    kept = {name: cache / f"{_key(engine, dot)}.svg" for name, dot in dots.items()}
    new = {kept[name]: dot for name, dot in dots.items() if not kept[name].exists()}
    if new:
        cache.mkdir(parents=True, exist_ok=True)
        _draw_new(program, new, cache)
    return {name: file.read_text(encoding="utf-8") for name, file in kept.items()}


def _program() -> str:
    engine = os.environ.get(SETTING) or next(iter(ENGINES))
    if engine not in ENGINES:
        raise EngineMissing(f"{SETTING} is {engine!r}, and the diagrams can be drawn by {' or '.join(ENGINES)} only.")
    # An environment that is used without being activated has its programs beside its Python.
    here = os.pathsep.join((str(Path(sys.executable).parent), os.environ.get("PATH", "")))
    program = shutil.which(engine, path=here)
    if program is None:
        raise EngineMissing(f"The diagrams cannot be drawn, for {engine} is not installed: {ENGINES[engine]}.")
    return program


def _key(engine: str, dot: str) -> str:
    """Name a drawing by what it is drawn from: the text, and the engine with its version."""
    return hashlib.sha256(f"{engine}\n{dot}".encode()).hexdigest()[:32]


def _draw_new(program: str, new: Mapping[Path, str], cache: Path) -> None:
    """Draw in a folder of its own, so that a broken run leaves nothing half written in the cache."""
    with tempfile.TemporaryDirectory(dir=cache) as folder:
        texts = {file: Path(folder, f"{file.stem}.dot") for file in new}
        for file, text in texts.items():
            text.write_text(new[file], encoding="utf-8")
        _run([program, "-Tsvg", "-O", *map(str, texts.values())])
        for file, text in texts.items():
            Path(f"{text}.svg").replace(file)


def _run(command: list[str]) -> str:
    """Run the engine and give what it said."""
    done = subprocess.run(command, capture_output=True, text=True)
    if done.returncode != 0:
        raise DrawingFailed(f"{Path(command[0]).name} did not draw: {done.stderr.strip() or 'it gave no reason'}")
    return (done.stdout + done.stderr).strip()
