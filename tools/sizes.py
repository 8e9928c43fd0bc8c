"""Print how long modules and functions are: median, 90th percentile, largest, and the longest by name.

python tools/sizes.py             src/bossage
python tools/sizes.py FOLDER      another folder, or one room of it

A module's length is its lines. A function's length is its lines of code: no blank line, comment or docstring counts.
What stands in a function inside another counts for both.
"""

from __future__ import annotations

import ast
import io
import statistics
import sys
import tokenize
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SHOWN = 8
SILENT = (tokenize.COMMENT, tokenize.NL, tokenize.NEWLINE, tokenize.INDENT, tokenize.DEDENT, tokenize.ENDMARKER)


def functions(path: Path) -> Iterator[tuple[str, int]]:
    """Each function of a module with its lines of code."""
    text = path.read_text(encoding="utf-8")
    tree = ast.parse(text)
    coded = {
        line
        for token in tokenize.generate_tokens(io.StringIO(text).readline)
        if token.type not in SILENT
        for line in range(token.start[0], token.end[0] + 1)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            told = set(_docstring(node))
            lines = range(node.lineno, (node.end_lineno or node.lineno) + 1)
            yield f"{path.name}:{node.lineno} {node.name}", sum(n in coded and n not in told for n in lines)


def _docstring(node: ast.FunctionDef | ast.AsyncFunctionDef) -> range:
    first = node.body[0]
    if ast.get_docstring(node) is None:
        return range(0)
    return range(first.lineno, (first.end_lineno or first.lineno) + 1)


def row(what: str, sizes: list[int]) -> str:
    """One line of the table."""
    tenths = statistics.quantiles(sizes, n=10) if len(sizes) > 1 else [float(size) for size in sizes] * 9
    return f"{what:10} {len(sizes):6} {statistics.median(sizes):8.0f} {tenths[8]:6.0f} {max(sizes):8}"


def main() -> None:
    """Print the table."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "src" / "bossage"
    paths = sorted(folder.rglob("*.py"))
    modules = [(str(path.relative_to(folder)), path.read_text(encoding="utf-8").count("\n")) for path in paths]
    inside = [(f"{path.parent.name}/{name}", size) for path in paths for name, size in functions(path)]
    print(f"{'':10} {'count':>6} {'median':>8} {'p90':>6} {'largest':>8}")
    for what, sized in (("modules", modules), ("functions", inside)):
        print(row(what, [size for _, size in sized]))
    for what, sized in (("modules", modules), ("functions", inside)):
        print(f"\nlongest {what}")
        for name, size in sorted(sized, key=lambda item: -item[1])[:SHOWN]:
            print(f"  {size:4}  {name}")


if __name__ == "__main__":
    main()
