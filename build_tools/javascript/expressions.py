"""Expressions of the subset, each printed as the JavaScript that means the same; all others are refused."""

from __future__ import annotations

import ast
import math
from collections.abc import Callable, Mapping
from types import FunctionType

from build_tools.javascript.calls import call_builtin, call_math, call_method, call_own, without_tables
from build_tools.javascript.kinds import (
    MAPPING,
    NUMBER,
    RECORD,
    TEXT,
    TRUTH,
    TUPLE,
    Kind,
    bare,
    elements,
    family,
    fields_of,
    is_record,
    join,
    join_all,
    kind_of,
    length_of,
    mapping_of,
    tuple_of,
)
from build_tools.javascript.scope import Printed, Scope
from build_tools.javascript.subset import ARITHMETIC, COMPARISONS, INSTEAD
from build_tools.javascript.values import value_text


def expression(node: ast.expr, scope: Scope) -> Printed:
    """Print one expression, or refuse it."""
    printer = _PRINTERS.get(type(node))
    if printer is None:
        name = type(node).__name__
        what, instead = INSTEAD.get(type(node), (f"{name} is not in the subset.", "See build_tools/javascript."))
        raise scope.refuse(node, what, instead)
    return printer(node, scope)


def condition(node: ast.expr, scope: Scope) -> str:
    """Print what must be true or false: an empty text or tuple counts otherwise in JavaScript."""
    printed = expression(node, scope)
    if printed.kind is not bool:
        what = f"{family(printed.kind).capitalize()} is neither true nor false."
        raise scope.refuse(node, what, "Write a comparison, as `x > 0` or `x is not None`.")
    return printed.text


def _constant(node: ast.Constant, scope: Scope) -> Printed:
    if not isinstance(node.value, int | float | str | None):
        raise scope.refuse(
            node, f"{node.value!r} is not in the subset.", "Write a number, a text, True, False or None."
        )
    if isinstance(node.value, int) and abs(node.value) > 2**53:
        raise scope.refuse(node, "JavaScript cannot hold this number exactly.", "Write it as a float, as 1e16.")
    return Printed(value_text(node.value), type(node.value))


def _name(node: ast.Name, scope: Scope) -> Printed:
    if node.id in scope.tables:
        return Printed(scope.table(node.id), scope.kinds[node.id])
    if node.id in scope.kinds:
        return Printed(node.id, scope.kinds[node.id])
    value = scope.function.__globals__.get(node.id)
    if not isinstance(value, int | float | str | tuple):
        instead = "Use an argument, a name bound above, or a constant: number, text, tuple or record."
        raise scope.refuse(node, f"`{node.id}` is no value known here.", instead)
    scope.needed[node.id] = value
    return Printed(node.id, kind_of(value))


def _arithmetic(node: ast.BinOp, scope: Scope) -> Printed:
    sign = ARITHMETIC.get(type(node.op))
    if sign is None:
        what, instead = INSTEAD.get(type(node.op), ("This operator is not in the subset.", "Use + - * or /."))
        raise scope.refuse(node, what, instead)
    left, right = expression(node.left, scope), expression(node.right, scope)
    families = {family(left.kind), family(right.kind)}
    text = f"({left.text} {sign} {right.text})"
    if families == {TEXT} and sign == "+":
        return Printed(text, str)
    if families != {NUMBER}:
        what = f"`{sign}` stands between {family(left.kind)} and {family(right.kind)}."
        raise scope.refuse(node, what, "Use it on two numbers, `+` on two texts; write `(*a, b)` for tuples.")
    return Printed(text, float if sign == "/" else join(bare(left.kind), bare(right.kind)))


def _unary(node: ast.UnaryOp, scope: Scope) -> Printed:
    if isinstance(node.op, ast.Not):
        return Printed(f"!({condition(node.operand, scope)})", bool)
    operand = expression(node.operand, scope)
    if not isinstance(node.op, ast.USub) or family(operand.kind) != NUMBER:
        raise scope.refuse(node, "Only `-` of a number and `not` are in the subset.", "Write it otherwise.")
    return Printed(f"(-{operand.text})", bare(operand.kind))


def _both(node: ast.BoolOp, scope: Scope) -> Printed:
    sign = " && " if isinstance(node.op, ast.And) else " || "
    return Printed("(" + sign.join(condition(each, scope) for each in node.values) + ")", bool)


def _compare(node: ast.Compare, scope: Scope) -> Printed:
    if len(node.ops) != 1:
        raise scope.refuse(node, "A chain of comparisons is not in the subset.", "Join two with `and`.")
    operator, right_node = node.ops[0], node.comparators[0]
    left = expression(node.left, scope)
    right = expression(right_node, scope)
    if isinstance(operator, ast.Is | ast.IsNot):
        return _against_none(node, scope, left, isinstance(operator, ast.Is), right)
    if isinstance(operator, ast.In | ast.NotIn):
        return _contains(node, scope, left, isinstance(operator, ast.In), right)
    families = {family(left.kind), family(right.kind)}
    equality = isinstance(operator, ast.Eq | ast.NotEq)
    if families != {NUMBER} and not (equality and families in ({TEXT}, {TRUTH})):
        what = f"It compares {family(left.kind)} with {family(right.kind)}."
        raise scope.refuse(node, what, "Compare two numbers; texts only for being equal.")
    return Printed(f"({left.text} {COMPARISONS[type(operator)]} {right.text})", bool)


def _against_none(node: ast.Compare, scope: Scope, left: Printed, same: bool, right: Printed) -> Printed:
    if right.text != "null":
        raise scope.refuse(node, "`is` compares places in memory.", "Write `==`, or `is None`.")
    return Printed(f"({left.text} {'===' if same else '!=='} null)", bool)


def _contains(node: ast.Compare, scope: Scope, left: Printed, inside: bool, right: Printed) -> Printed:
    plain = family(left.kind) in (NUMBER, TEXT)
    in_text = family(left.kind) == family(right.kind) == TEXT
    in_tuple = family(right.kind) == TUPLE and all(family(each) == family(left.kind) for each in elements(right.kind))
    if not (in_text or (plain and in_tuple)):
        what = f"It looks for {family(left.kind)} in {family(right.kind)}."
        raise scope.refuse(node, what, "Look for a text in a text, or for a number or text in a tuple of them.")
    return Printed(f"{'' if inside else '!'}{right.text}.includes({left.text})", bool)


def _either(node: ast.IfExp, scope: Scope) -> Printed:
    test = condition(node.test, scope)
    body, other = expression(node.body, scope), expression(node.orelse, scope)
    kind = join(body.kind, other.kind)
    if kind is None:
        what = f"One branch gives {family(body.kind)}, the other {family(other.kind)}."
        raise scope.refuse(node, what, "Give one kind in both.")
    return Printed(f"({test} ? {body.text} : {other.text})", kind)


def _f_string(node: ast.JoinedStr, scope: Scope) -> Printed:
    parts = [""] if not node.values or isinstance(node.values[0], ast.FormattedValue) else []
    texts = [value_text(each) for each in parts] + [_f_part(each, scope) for each in node.values]
    return Printed("(" + " + ".join(texts) + ")", str)


def _f_part(node: ast.expr, scope: Scope) -> str:
    if not isinstance(node, ast.FormattedValue):
        return expression(node, scope).text
    printed = expression(node.value, scope)
    if node.format_spec is not None or node.conversion != -1:
        raise scope.refuse(node.value, "A field with a format is not in the subset.", "Write `{figure(x, 1)}`.")
    whole = bare(printed.kind) is int
    if not whole and family(printed.kind) != TEXT:
        raise scope.refuse(node.value, "A number is written otherwise in JavaScript.", "Write `{figure(x, 1)}`.")
    return f"String({printed.text})" if whole else printed.text


def _tuple(node: ast.Tuple, scope: Scope) -> Printed:
    texts: list[str] = []
    kinds: list[object] = []
    open_ended = False
    for each in node.elts:
        starred = isinstance(each, ast.Starred)
        printed = expression(each.value if isinstance(each, ast.Starred) else each, scope)
        if starred and family(printed.kind) != TUPLE:
            raise scope.refuse(each, f"The star stands before {family(printed.kind)}.", "Put it before a tuple.")
        open_ended = open_ended or starred
        texts.append(("..." if starred else "") + printed.text)
        kinds.extend(elements(printed.kind) if starred else (printed.kind,))
    joined = join_all(tuple(kinds))
    if open_ended and kinds and joined is None:
        raise scope.refuse(node, "The tuple mixes kinds.", "Give it one kind.")
    kind = tuple_of(joined, ...) if open_ended else tuple_of(*kinds)
    return Printed("[" + ", ".join(texts) + "]", kind)


def _mapping(node: ast.Dict, scope: Scope) -> Printed:
    entries: list[str] = []
    kinds: list[object] = []
    for key, each in zip(node.keys, node.values, strict=True):
        if not (isinstance(key, ast.Constant) and isinstance(key.value, str)):
            raise scope.refuse(key or node, "This key is not a text in quotes.", 'Write keys as "lap_mm".')
        printed = expression(each, scope)
        entries.append(f"{value_text(key.value)}: {printed.text}")
        kinds.append(printed.kind)
    return Printed("{" + ", ".join(entries) + "}", mapping_of(join_all(tuple(kinds))))


def _attribute(node: ast.Attribute, scope: Scope) -> Printed:
    if _is_math(node.value, scope):
        if node.attr != "pi":
            raise scope.refuse(node, f"`math.{node.attr}` is no constant of the subset.", "Write `math.pi`.")
        return Printed("Math.PI", float)
    owner = expression(node.value, scope)
    fields = fields_of(bare(owner.kind)) if family(owner.kind) == RECORD else {}
    if node.attr not in fields:
        what = f"`{node.attr}` is no field: this is {family(owner.kind)}."
        raise scope.refuse(node, what, "Take a field of a named tuple.")
    return Printed(f"{owner.text}.{node.attr}", fields[node.attr])


def _subscript(node: ast.Subscript, scope: Scope) -> Printed:
    owner = expression(node.value, scope)
    if isinstance(node.slice, ast.Slice):
        return _tail(node, node.slice, owner, scope)
    index = expression(node.slice, scope)
    text = f"{owner.text}[{index.text}]"
    fixed = node.slice.value if isinstance(node.slice, ast.Constant) else None
    if family(owner.kind) == MAPPING and isinstance(fixed, str):
        return Printed(text, elements(owner.kind)[1])
    whole = bare(index.kind) is int and not isinstance(node.slice, ast.UnaryOp)
    if family(owner.kind) == TEXT and whole:
        return Printed(text, str)
    if family(owner.kind) == TUPLE and whole:
        parts = elements(owner.kind)
        if isinstance(fixed, int) and length_of(owner.kind) is not None:
            parts = parts[fixed : fixed + 1]
        kind = join_all(parts)
        if kind is not None:
            return Printed(text, kind)
    instead = "Count from the start with a whole number; take from a mapping by a text in quotes."
    raise scope.refuse(node, f"This is no plain part of {family(owner.kind)}.", instead)


def _tail(node: ast.Subscript, part: ast.Slice, owner: Printed, scope: Scope) -> Printed:
    start = part.lower.value if isinstance(part.lower, ast.Constant) else None
    if not isinstance(start, int) or part.upper or part.step or family(owner.kind) not in (TEXT, TUPLE):
        raise scope.refuse(node, "Only what follows a fixed place can be cut off.", "Write `text[1:]`.")
    return Printed(f"{owner.text}.slice({start})", owner.kind)


def _is_math(node: ast.expr, scope: Scope) -> bool:
    return isinstance(node, ast.Name) and node.id not in scope.kinds and scope.function.__globals__.get(node.id) is math


def _call(node: ast.Call, scope: Scope) -> Printed:
    target = node.func
    value = scope.function.__globals__.get(target.id) if isinstance(target, ast.Name) else None
    if is_record(value):
        return _record(node, value, scope)
    if node.keywords or any(isinstance(each, ast.Starred) for each in node.args):
        raise scope.refuse(node, "It names or stars its arguments.", "Give each argument in its place.")
    values = without_tables(node, value, scope) if isinstance(value, FunctionType) else node.args
    given = tuple(expression(each, scope) for each in values)
    if isinstance(target, ast.Attribute) and _is_math(target.value, scope):
        return call_math(node, target.attr, given, scope)
    if isinstance(target, ast.Attribute):
        return call_method(node, target.attr, expression(target.value, scope), given, scope)
    if not isinstance(target, ast.Name):
        raise scope.refuse(node, "It calls what is not a name.", "Call a function by its name.")
    if isinstance(value, FunctionType):
        return call_own(node, target.id, value, given, scope)
    return call_builtin(node, target.id, given, scope)


def _record(node: ast.Call, record: Kind, scope: Scope) -> Printed:
    names = fields_of(record)
    given = {each.arg: expression(each.value, scope) for each in node.keywords if each.arg}
    if node.args or set(given) != set(names):
        raise scope.refuse(node, f"{record.__name__} is not made by naming its fields.", f"Name {', '.join(names)}.")
    return Printed("{" + ", ".join(f"{name}: {given[name].text}" for name in names) + "}", record)


_PRINTERS: Mapping[type[ast.AST], Callable[..., Printed]] = {
    ast.Constant: _constant,
    ast.Name: _name,
    ast.BinOp: _arithmetic,
    ast.UnaryOp: _unary,
    ast.BoolOp: _both,
    ast.Compare: _compare,
    ast.IfExp: _either,
    ast.JoinedStr: _f_string,
    ast.Tuple: _tuple,
    ast.Dict: _mapping,
    ast.Attribute: _attribute,
    ast.Subscript: _subscript,
    ast.Call: _call,
}
