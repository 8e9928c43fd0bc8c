"""Mutation of source over `ast`: small changes that a maker would rue, each of which some test should notice.

The operators are those of DeMillo, Lipton and Sayward ('Hints on test data selection', 1978) and their usual heirs:
relations, constants, arithmetic, connectives, a `not` or a `raise` that is gone, `min` for `max`, an empty answer.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

RELATIONS: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}  # fmt: skip
ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult,
}  # fmt: skip
EMPTY = {"int": 0, "float": 0.0, "bool": False, "str": ""}
EXTREMES = {"min": "max", "max": "min"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Mutant:
    """One change of one file: the bytes from `start` to `end` become `after`."""

    file: str
    line: int
    kind: str
    function: str
    start: int
    end: int
    before: str
    after: str

    def source(self, original: bytes) -> bytes:
        """The file with the change."""
        return original[: self.start] + self.after.encode() + original[self.end :]

    def words(self) -> str:
        """File, line and change, in one line."""
        before, after = (" ".join(text.split()) for text in (self.before, self.after))
        return f"{self.file}:{self.line} ({self.function or 'module'}) {self.kind}: {before[:90]}  ->  {after[:90]}"


def mutants_of(package: Path, path: Path) -> list[Mutant]:
    """Every mutant of a module, in the order of its text."""
    search = _Search(path.read_bytes(), path.relative_to(package).as_posix())
    found = {mutant for mutant in search.all() if mutant.before != mutant.after}
    return sorted(found, key=lambda m: (m.start, m.end, m.after))


def is_python(source: bytes) -> bool:
    """Whether a changed module can be loaded at all."""
    try:
        compile(source, "mutant", "exec", dont_inherit=True)
    except (SyntaxError, ValueError):
        return False
    return True


class _Search:
    def __init__(self, raw: bytes, file: str) -> None:
        self.file, self.raw = file, raw
        starts = [0]
        for line in raw.splitlines(keepends=True):
            starts.append(starts[-1] + len(line))
        self.starts = starts

    def all(self) -> Iterator[Mutant]:
        yield from self._within(ast.parse(self.raw), "")

    def _within(self, node: ast.AST, function: str) -> Iterator[Mutant]:
        for child in ast.iter_child_nodes(node):
            if _is_said(child):
                continue
            inner = function
            if isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
                inner = f"{function}.{child.name}".lstrip(".")
            yield from self._of(child, function, node)
            if isinstance(child, ast.AnnAssign):
                if child.value is not None:
                    yield from self._of(child.value, function, child)
                    yield from self._within(child.value, function)
            elif isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef):
                yield from self._in_function(child, inner)
            else:
                yield from self._within(child, inner)

    def _in_function(self, function: ast.FunctionDef | ast.AsyncFunctionDef, name: str) -> Iterator[Mutant]:
        """Its defaults and its body; annotations and decorators stay."""
        for default in (*function.args.defaults, *function.args.kw_defaults):
            if default is not None:
                yield from self._of(default, name, function.args)
                yield from self._within(default, name)
        returns = function.returns.id if isinstance(function.returns, ast.Name) else ""
        body = ast.Module(body=function.body, type_ignores=[])
        yield from self._within(body, name)
        for node in ast.walk(body):
            if isinstance(node, ast.Return) and node.value is not None and returns in EMPTY:
                yield from self._made(node.value, repr(EMPTY[returns]), "returned default", name)

    def _of(self, node: ast.AST, function: str, parent: ast.AST) -> Iterator[Mutant]:
        if isinstance(node, ast.Compare) and len(node.ops) == 1 and type(node.ops[0]) in RELATIONS:
            to = RELATIONS[type(node.ops[0])]()
            compared = ast.Compare(node.left, [to], node.comparators)
            yield from self._made(node, f"({ast.unparse(compared)})", "comparison", function)
        elif isinstance(node, ast.BinOp) and type(node.op) in ARITHMETIC and not _text(node):
            reckoned = ast.BinOp(node.left, ARITHMETIC[type(node.op)](), node.right)
            yield from self._made(node, f"({ast.unparse(reckoned)})", "arithmetic", function)
        elif isinstance(node, ast.BoolOp):
            connective = ast.And() if isinstance(node.op, ast.Or) else ast.Or()
            yield from self._made(node, f"({ast.unparse(ast.BoolOp(connective, node.values))})", "connective", function)
        elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
            yield from self._made(node, f"({ast.unparse(node.operand)})", "dropped not", function)
        elif isinstance(node, ast.Raise):
            yield from self._made(node, "pass", "dropped raise", function)
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in EXTREMES:
            yield from self._made(node.func, EXTREMES[node.func.id], "extreme", function)
        elif isinstance(node, ast.Constant) and not isinstance(parent, ast.Expr):
            yield from self._constant(node, function)

    def _constant(self, node: ast.Constant, function: str) -> Iterator[Mutant]:
        value = node.value
        if isinstance(value, bool):
            yield from self._made(node, repr(not value), "constant", function)
        elif isinstance(value, int):
            yield from self._made(node, repr(value + 1), "constant", function)
        elif isinstance(value, float):
            yield from self._made(node, repr(value * 1.05 if value else 1.0), "constant", function)

    def _made(self, node: ast.expr | ast.stmt, after: str, kind: str, function: str) -> Iterator[Mutant]:
        assert node.end_lineno is not None
        assert node.end_col_offset is not None
        start = self.starts[node.lineno - 1] + node.col_offset
        end = self.starts[node.end_lineno - 1] + node.end_col_offset
        before = self.raw[start:end].decode()
        line = node.lineno
        yield Mutant(
            file=self.file, line=line, kind=kind, function=function, start=start, end=end, before=before, after=after
        )


def _is_said(node: ast.AST) -> bool:
    """Texts with values in them have no places of their own before Python 3.12, and imports for types do nothing."""
    for_types = isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"
    return for_types or isinstance(node, ast.JoinedStr)


def _text(node: ast.BinOp) -> bool:
    """Texts are put together with `+`; without it there is no program."""
    sides = (node.left, node.right)
    return any(isinstance(side, ast.JoinedStr) or _is_text(side) for side in sides)


def _is_text(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, str)
