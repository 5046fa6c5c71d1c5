"""Every small fault that could be made in a module: swapped operators, moved boundaries, lost returns."""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from functools import partial
from typing import NamedTuple

_OPERATORS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
}
_COMPARISONS: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.Gt),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.Lt),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
_NOTHING = ("None", "False")
Change = tuple[str, Callable[[], None]]
Changes = Callable[[ast.AST], Iterator[Change]]


class Mutant(NamedTuple):
    """One fault in one module: its function and line, what was changed, and the whole new text."""

    module: str
    function: int
    """The first line of the function, with its decorators; 0 beside all functions."""
    line: int
    change: str
    text: str


def mutants(module: str, text: str) -> Iterator[Mutant]:
    """Yield every mutant of a module."""
    yield from _each(module, text, _changes)


def constants(module: str, text: str, by: float) -> Iterator[Mutant]:
    """Yield every mutant in which one number of a module is so many times as large."""
    yield from _each(module, text, partial(_numbers, by=by))


def _each(module: str, text: str, changes: Changes) -> Iterator[Mutant]:
    number = 0
    while (mutant := _mutant(module, text, number, changes)) is not None:
        yield mutant
        number += 1


def _mutant(module: str, text: str, number: int, changes: Changes) -> Mutant | None:
    tree = ast.parse(text)
    for at, (line, before, change) in enumerate(_all_changes(tree, changes)):
        if at == number:
            name, make = change
            function = _function_at(tree, line)
            make()
            return Mutant(module, function, line, f"{name}: {before}", ast.unparse(tree))
    return None


def _function_at(tree: ast.AST, line: int) -> int:
    """Return where the innermost function that holds a line begins."""
    begins = 0
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef) and node.lineno <= line <= (node.end_lineno or 0):
            begins = max(begins, min([node.lineno, *(d.lineno for d in node.decorator_list)]))
    return begins


def _all_changes(tree: ast.AST, changes: Changes) -> Iterator[tuple[int, str, Change]]:
    for node in _code(tree):
        line = getattr(node, "lineno", 0)
        for change in changes(node):
            yield line, ast.unparse(node).split("\n")[0][:90], change


def _code(node: ast.AST) -> Iterator[ast.AST]:
    """Yield the nodes that do something: no annotation, decorator, text or import for types alone.

    Nor ``strict`` of ``zip``, which makes sure of what holds, nor what only Windows does.
    """
    if isinstance(node, ast.If) and ast.unparse(node.test) == "sys.platform == 'win32'":
        for other in node.orelse:
            yield from _code(other)
        return
    if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
        return
    if isinstance(node, ast.keyword) and node.arg == "strict":
        return
    yield node
    for name, value in ast.iter_fields(node):
        if name in ("annotation", "returns", "decorator_list"):
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST):
                yield from _code(child)


def _changes(node: ast.AST) -> Iterator[Change]:
    if isinstance(node, ast.BinOp | ast.AugAssign) and type(node.op) in _OPERATORS:
        other = _OPERATORS[type(node.op)]
        yield f"operator to {other.__name__}", lambda: setattr(node, "op", other())
    elif isinstance(node, ast.Compare):
        yield from _comparisons(node)
    elif isinstance(node, ast.BoolOp):
        flipped = ast.Or if isinstance(node.op, ast.And) else ast.And
        yield f"operator to {flipped.__name__}", lambda: setattr(node, "op", flipped())
    elif isinstance(node, ast.Constant):
        yield from _constants(node)
    elif isinstance(node, ast.Return) and node.value and ast.unparse(node.value) not in _NOTHING:
        yield "return nothing", lambda: setattr(node, "value", None)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        yield "sign dropped", lambda: setattr(node, "op", ast.UAdd())
    if isinstance(node, ast.If | ast.IfExp | ast.While):
        test = node.test
        yield "condition negated", lambda: setattr(node, "test", ast.UnaryOp(ast.Not(), test))


def _comparisons(node: ast.Compare) -> Iterator[Change]:
    for i, operator in enumerate(node.ops):
        for other in _COMPARISONS[type(operator)]:
            yield (
                f"comparison to {other.__name__}",
                lambda i=i, other=other: node.ops.__setitem__(i, other()),  # type: ignore[misc]
            )


def _numbers(node: ast.AST, by: float = 1.1) -> Iterator[Change]:
    match node:
        case ast.Constant(value=bool()):
            return
        case ast.Constant(value=int(value) | float(value)):
            more = value + 1 if isinstance(value, int) or not value else value * by
            yield f"constant to {more:g}", lambda: setattr(node, "value", more)


def _constants(node: ast.Constant) -> Iterator[Change]:
    value = node.value
    if isinstance(value, bool):
        yield "flag flipped", lambda: setattr(node, "value", not value)
    yield from _numbers(node)
