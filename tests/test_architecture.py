"""How the program is built: data flows one way, one thing a module, one place that speaks."""

import ast
import re
from graphlib import TopologicalSorter
from pathlib import Path

from guides import broken_names

from build_tools.model.problems import RULES

ROOT = Path(__file__).parent.parent
PROGRAM = ROOT / "build_tools"
ROOMS = (
    *("model", "formulas", "sources", "proof"),
    *("guide", "javascript", "shell", "site", "preview"),
    *("progress", "review", "commands", "__main__"),
)
"""Every package of build_tools, and the two modules that stand alone; each imports only from those before it."""
MOST_ARROWS = 60
MOST_LAYERS = 10
SAYS_NONE = ("build_tools.model.problems", "build_tools.proof.report")
"""Modules that name rules without giving a finding."""
LONGEST_MODULE = 300
LONGEST_FUNCTION = 40
"""Lines below the head and the docstring: that of a formula holds its source, limits and example."""
HTML = re.compile(r"</?(a|article|body|div|h[1-6]|head|html|li|main|nav|ol|p|section|span|table|td|tr|ul)\b")


def module_name(path):
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


TREES = {module_name(path): ast.parse(path.read_text(encoding="utf-8")) for path in sorted(PROGRAM.rglob("*.py"))}
LENGTHS = {module_name(path): len(path.read_text(encoding="utf-8").splitlines()) for path in PROGRAM.rglob("*.py")}


def imports_of(name):
    """Give the modules of the program that a module imports, wherever in it the import stands."""
    named = set()
    for node in ast.walk(TREES[name]):
        if isinstance(node, ast.Import):
            named |= {each.name for each in node.names}
        elif isinstance(node, ast.ImportFrom):
            inner = {f"{node.module}.{each.name}" for each in node.names}
            named |= (inner & set(TREES)) or {node.module}
    return {each for each in named if each in TREES and each != name}


def unit(name):
    """Give the part of the program that stands in the order: a module, or the package around it."""
    return name.split(".")[1] if "." in name else ""


def calls_of(name):
    """Give what a module calls, as `print` or `sys.exit` or `.read_text`."""
    called = [node.func for node in ast.walk(TREES[name]) if isinstance(node, ast.Call)]
    whole = {ast.unparse(each) for each in called}
    return whole | {f".{each.attr}" for each in called if isinstance(each, ast.Attribute)}


def functions_of(name):
    return [node for node in ast.walk(TREES[name]) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)]


def length(function):
    """Count the lines of a function below its docstring: what it is handed is a list of names, and long for some."""
    first = function.body[0]
    said = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant) and isinstance(first.value.value, str)
    return function.end_lineno - (first.end_lineno if said else first.lineno - 1)


def arrows():
    """Give each pair of rooms of which the first imports from the second."""
    pairs = {(unit(name), unit(each)) for name in TREES for each in imports_of(name)}
    return {(here, there) for here, there in pairs if here and there and here != there}


def test_every_room_has_a_place_in_the_order():
    assert {unit(name) for name in TREES} - {""} == set(ROOMS), "give a new room its place, after all that it imports"
    assert len(ROOMS) == len(set(ROOMS))


def test_every_room_says_what_goes_in_and_comes_out():
    said = {name: ast.get_docstring(TREES[f"build_tools.{name}"]) for name in ROOMS if (PROGRAM / name).is_dir()}
    assert [name for name, words in said.items() if not re.search(r"\n\nIn: .*Out: ", words or "", re.S)] == []


def test_every_room_and_module_is_named_to_contributors():
    told = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert [name for name in ROOMS if f"`{name}`" not in told and f"`{name}/`" not in told] == []
    # The first three tell in their own __init__ what stands where; a command is its module's name.
    apart = ("formulas", "javascript", "review", "commands")
    names = {name.rpartition(".")[2] for name in TREES if unit(name) not in ("", *apart)} - {*ROOMS, "base"}
    assert [name for name in sorted(names) if not re.search(rf"`(\w+[./])*{name}/?`", told)] == []


def test_imports_never_go_back_up():
    place = {name: ROOMS.index(unit(name)) for name in TREES if unit(name)}
    late = {(name, each) for name in place for each in imports_of(name) if place.get(each, -1) > place[name]}
    assert late == set(), "the first stands before what it imports; move it to another room or turn the import round"


def test_rooms_are_few_steps_apart():
    below = {name: {there for here, there in arrows() if here == name} for name in ROOMS}
    layers = {}
    for name in TopologicalSorter(below).static_order():
        layers[name] = 1 + max((layers[each] for each in below[name]), default=0)
    assert len(arrows()) <= MOST_ARROWS
    assert max(layers.values()) <= MOST_LAYERS


def test_no_import_goes_round_in_a_circle():
    assert list(TopologicalSorter({name: imports_of(name) for name in TREES}).static_order())


def test_only_main_speaks_and_ends_the_program():
    speaks = {
        "print",
        "input",
        "exit",
        "quit",
        "sys.exit",
        "os._exit",
        "SystemExit",
        "sys.stdout.write",
        "sys.stderr.write",
    }
    assert {name for name in TREES if calls_of(name) & speaks} == {"build_tools.__main__"}


def test_module_that_reads_does_not_render():
    reading = {name for name in TREES if calls_of(name) & {"open", ".read_text", ".read_bytes", ".open"}}
    rendering = {
        name
        for name, tree in TREES.items()
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and HTML.search(node.value)
    }
    assert reading and rendering and reading & rendering == set()


def test_only_render_uses_the_template_engine():
    users = {
        name
        for name, tree in TREES.items()
        for node in ast.walk(tree)
        if isinstance(node, ast.Import | ast.ImportFrom)
        and "jinja2" in (getattr(node, "module", "") or "", *(each.name for each in node.names))
    }
    assert users == {"build_tools.site.render"}


def test_only_checks_makes_a_checked_guide():
    makers = {name for name in TREES if "CheckedGuide" in calls_of(name)}
    assert makers == {"build_tools.proof.checks"}


def test_modules_are_short_and_say_what_they_are_for():
    assert {name: lines for name, lines in LENGTHS.items() if lines > LONGEST_MODULE} == {}
    said = {name: (ast.get_docstring(tree) or "").split("\n")[0] for name, tree in TREES.items() if LENGTHS[name]}
    assert [name for name, words in said.items() if not words.endswith(".")] == []


def test_functions_are_short():
    lengths = {(name, each.name): length(each) for name in TREES for each in functions_of(name)}
    # The `formula` of a module states one record, field by field.
    assert {name: lines for name, lines in lengths.items() if lines > LONGEST_FUNCTION and name[1] != "formula"} == {}


def test_every_code_that_the_program_gives_is_a_rule_with_a_broken_guide():
    given = {
        node.value
        for name in TREES
        if unit(name) in ("model", "sources", "formulas", "proof") and name not in SAYS_NONE
        for node in ast.walk(TREES[name])
        if isinstance(node, ast.Constant) and node.value in RULES
    }
    made = {
        f"unknown-{kind}"
        for kind in ("caution", "gate", "hazard", "source", "remedy", "tree", "formula", "drawing", "term")
    }
    assert given | made == set(RULES) == {name.split(".")[0] for name in broken_names()}


def test_no_source_of_the_program_names_this_machine_or_a_fetch():
    texts = {path: path.read_text(encoding="utf-8") for path in PROGRAM.rglob("*.py")}
    fetches = re.compile(r"\b(urlopen|urllib\.request|http\.client|requests|httpx|socket\.create)\b")
    elsewhere = re.compile(r"[\x22'](\.\.)?/\w+/?\w", re.ASCII)
    assert [path.name for path, text in texts.items() if fetches.search(text) or elsewhere.search(text)] == []
