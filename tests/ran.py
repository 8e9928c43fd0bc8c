"""Statement marks set at import: which functions, or which lines, of the package some tests ran.

A statement that marks itself is put before the first statement of every function, or before every statement. That
costs some nanoseconds, where a tracer costs a multiple, and needs no library. What runs in a process of its own
(`python -m bossage`, a fork) is not seen: marks in memory that forks share were tried, and cost seven times as much.
"""

from __future__ import annotations

import ast
import builtins
import sys
from collections.abc import Iterator
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec, PathFinder, SourceFileLoader
from pathlib import Path
from typing import Any

MOST_MARKS = 1_000_000
NAME = "__ran__"
Function = ast.FunctionDef | ast.AsyncFunctionDef


class Marks:
    """The marks of all modules of a package that were imported since `watch`."""

    def __init__(self, package: Path, *, lines: bool) -> None:
        self.package, self.lines = package, lines
        self.hit = bytearray(MOST_MARKS)
        #: Of each mark the file, and the line or the function's name.
        self.places: list[tuple[str, int | str]] = []

    def watch(self) -> None:
        """Mark what is imported from now on."""
        setattr(builtins, NAME, self.hit)
        sys.meta_path.insert(0, Finder(self))

    def seen(self) -> set[tuple[str, int | str]]:
        """What ran since the marks were wiped."""
        hit = self.hit[: len(self.places)]
        return {place for place, ran in zip(self.places, hit, strict=True) if ran}

    def wipe(self) -> None:
        self.hit[: len(self.places)] = bytes(len(self.places))

    def marked(self, source: bytes, path: Path) -> ast.Module:
        """A module's tree with its marks; lines stay where they are."""
        tree = ast.parse(source)
        name = path.relative_to(self.package).as_posix()
        if self.lines:
            for body in [*_bodies(tree)]:
                body[:] = [new for stmt in body for new in (*self._mark(name, stmt.lineno, stmt), stmt)]
        else:
            for function, qualname in functions(tree):
                first = _after_docstring(function.body)
                function.body[first:first] = self._mark(name, qualname, function.body[first])
        return tree

    def _mark(self, file: str, what: int | str, stmt: ast.stmt) -> list[ast.stmt]:
        if _holds_first_place(stmt):
            return []
        number = len(self.places)
        self.places.append((file, what))
        place = ast.Subscript(ast.Name(NAME, ast.Load()), ast.Constant(number), ast.Store())
        made = ast.Assign([place], ast.Constant(1))
        for node in ast.walk(made):
            ast.copy_location(node, stmt)
        return [made]


class Finder(MetaPathFinder):
    """Finds the package's modules as Python does, and has them loaded with marks."""

    def __init__(self, marks: Marks) -> None:
        self.marks = marks

    def find_spec(self, fullname: str, path: Any, target: Any = None) -> ModuleSpec | None:
        if not fullname.startswith(f"{self.marks.package.name}."):
            return None
        spec = PathFinder.find_spec(fullname, path, target)
        if spec is not None and type(spec.loader) is SourceFileLoader:
            spec.loader = Loader(self.marks, spec.loader.name, spec.loader.path)
        return spec


class Loader(SourceFileLoader):
    """Compiles a module with its marks, every time: what is compiled already has none."""

    def __init__(self, marks: Marks, fullname: str, path: str) -> None:
        super().__init__(fullname, path)
        self.marks = marks

    def get_code(self, fullname: str) -> Any:
        path = Path(self.path)
        return compile(self.marks.marked(path.read_bytes(), path), self.path, "exec", dont_inherit=True)


def functions(tree: ast.Module) -> Iterator[tuple[Function, str]]:
    """Every function that does something, with its name within the module (`Life.port`)."""
    waiting: list[tuple[ast.AST, str]] = [(tree, "")]
    while waiting:
        node, within = waiting.pop()
        for child in ast.iter_child_nodes(node):
            named = isinstance(child, Function | ast.ClassDef)
            name = f"{within}.{child.name}".lstrip(".") if named else within
            waiting.append((child, name))
            if isinstance(child, Function) and _after_docstring(child.body) < len(child.body):
                yield child, name


def all_functions(package: Path) -> set[tuple[str, str]]:
    """File and name of every function of a package that does something."""
    return {
        (path.relative_to(package).as_posix(), name)
        for path in package.rglob("*.py")
        for _, name in functions(ast.parse(path.read_bytes()))
    }


def _bodies(tree: ast.Module) -> Iterator[list[ast.stmt]]:
    for node in ast.walk(tree):
        for field in ("body", "orelse", "finalbody"):
            body = getattr(node, field, None)
            if isinstance(body, list) and body:
                yield body


def _after_docstring(body: list[ast.stmt]) -> int:
    """Where a body's first statement stands that is no docstring and no `...`."""
    return next((n for n, stmt in enumerate(body) if not _holds_first_place(stmt)), len(body))


def _holds_first_place(stmt: ast.stmt) -> bool:
    """Docstrings and imports from the future must come first, and nothing happens in them."""
    if isinstance(stmt, ast.ImportFrom):
        return stmt.module == "__future__"
    return isinstance(stmt, ast.Expr) and isinstance(stmt.value, ast.Constant)
