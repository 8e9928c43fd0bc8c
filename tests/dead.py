"""Public names that no code uses: what is defined at the top of a module or in a class, and named nowhere else."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

OWN = {"property", "cached_property", "staticmethod", "classmethod", "dataclass", "cache", "lru_cache"}


def unused(package: Path, users: list[Path]) -> list[str]:
    """`module name` of each public name of a package that neither the package nor its users use.

    A name counts as used wherever it is read, as a variable or after a dot, whatever it stands for there. So an unused
    name may be missed, but no used name is reported. Imports and `__all__` do not count as uses. A function that a
    library's decorator takes over (a command, a route, a validator) is used by that library.
    """
    trees = {path: ast.parse(path.read_text(encoding="utf-8")) for path in package.rglob("*.py")}
    more = [ast.parse(path.read_text(encoding="utf-8")) for folder in users for path in folder.rglob("*.py")]
    used: Counter[str] = Counter()
    for tree in [*trees.values(), *more]:
        used.update(_used(tree))
    return sorted(
        f"{path.relative_to(package)} {name}"
        for path, tree in trees.items()
        for name in _defined(tree)
        if not used[name.rsplit(".", 1)[-1]]
    )


def _used(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
            yield node.id
        elif isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Load):
            yield node.attr
        elif isinstance(node, ast.ImportFrom | ast.Import):
            yield from (alias.name for alias in node.names if alias.asname not in (None, alias.name))


def _defined(tree: ast.Module) -> Iterator[str]:
    for node in tree.body:
        if isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            yield from (t.id for t in targets if isinstance(t, ast.Name) and not t.id.startswith("_"))
        elif isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            if _own(node):
                yield node.name
            if isinstance(node, ast.ClassDef):
                methods = (item for item in node.body if isinstance(item, ast.FunctionDef))
                yield from (f"{node.name}.{m.name}" for m in methods if not m.name.startswith("_") and _own(m))


def _own(node: ast.FunctionDef | ast.ClassDef) -> bool:
    return all(_name(decorator) in OWN for decorator in node.decorator_list)


def _name(decorator: ast.expr) -> str:
    inner = decorator.func if isinstance(decorator, ast.Call) else decorator
    return inner.id if isinstance(inner, ast.Name) else ""
