"""What a machine without a validator at hand can check of PDF/UA-1 (ISO 14289-1:2014), through pikepdf.

Done, by clause: 5 identification; 6.2 and 7.1 marked content, artifacts, title, tags and roles; 7.2 language, lists,
tables (rows of one length, header cells with a scope); 7.3 words for figures; 7.4 headings in order; 7.18 no
annotations, tab order; 7.21 fonts embedded, with what each letter means. Clauses from memory of the standard.

Not done: whether reading order and words make sense (a person must), glyph widths, CIDSets, colour contrast; and no
conforming validator was run, as none is offered without a Java machine.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name

#: Standard structure types, ISO 32000-1 section 14.8.4.
STANDARD = re.compile(
    "Document|Part|Art|Sect|Div|BlockQuote|Caption|TOCI?|Index|NonStruct|Private|P|H[1-6]?|L|LI|Lbl|LBody|Table|TR|TH|TD"
    "|THead|TBody|TFoot|Span|Quote|Note|Reference|BibEntry|Code|Link|Annot|Ruby|RB|RT|RP|Warichu|WT|WP|Figure|Formula"
    "|Form"
)
INSIDE = {
    "TR": {"Table", "THead", "TBody", "TFoot"},
    "TH": {"TR"},
    "TD": {"TR"},
    "THead": {"Table"},
    "TBody": {"Table"},
    "TFoot": {"Table"},
    "LI": {"L"},
    "Lbl": {"LI", "Note", "TOCI"},
    "LBody": {"LI"},
}
PAINTING = {"S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "sh", "Do", "Tj", "TJ", "'", '"', "INLINE IMAGE"}


def ua_faults(pdf: bytes, *, content: bool = True) -> list[str]:
    """What is wrong, a line each; `content` also reads what every page paints, which takes its time."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        faults = [*_document(opened), *_tags(opened.Root.StructTreeRoot), *_fonts(opened)]
        for number, page in enumerate(opened.pages, start=1):
            faults += [f"page {number}: {fault}" for fault in _page(opened, page, content)]
        return faults


def elements(node: Any, parent: str = "") -> Iterator[tuple[Any, str]]:
    """Every element of the tag tree in reading order, with the type of the one that it is in."""
    below = node.get("/K", [])
    for one in below if isinstance(below, Array) else [below]:
        if isinstance(one, Dictionary) and "/S" in one:
            yield one, parent
            yield from elements(one, kind(one))


def kind(element: Any) -> str:
    return str(element.S).removeprefix("/")


def _document(pdf: pikepdf.Pdf) -> Iterator[str]:
    root = pdf.Root
    if not bool(root.get("/MarkInfo", {}).get("/Marked", False)) or bool(root.MarkInfo.get("/Suspects", False)):
        yield "it is not said to be tagged"
    if not re.fullmatch(r"[a-z]{2}(-[A-Z]{2})?", str(root.get("/Lang", ""))):
        yield "it has no language"
    if not bool(root.get("/ViewerPreferences", {}).get("/DisplayDocTitle", False)):
        yield "its title is not shown"
    with pdf.open_metadata() as about:
        if str(about.get("pdfuaid:part", "")) != "1":
            yield "it does not say that it is PDF/UA-1"
        if not str(about.get("dc:title", "")).strip():
            yield "it has no title"
    if pdf.is_encrypted or "/AcroForm" in root or "/JavaScript" in root.get("/Names", {}):
        yield "it is locked, or holds forms or programs"
    if "/ParentTree" not in root.StructTreeRoot:
        yield "it has no tree from content to tags"


def _tags(root: Any) -> Iterator[str]:
    roles = {str(name)[1:]: str(to)[1:] for name, to in dict(root.get("/RoleMap", {})).items()}
    last = 0
    for element, parent in elements(root):
        named = kind(element)
        what = roles.get(named, named)
        if not STANDARD.fullmatch(what):
            yield f"{what} is no standard type"
        if what in INSIDE and roles.get(parent, parent) not in INSIDE[what]:
            yield f"{what} stands in {parent or 'nothing'}"
        if what == "Figure":
            if len(str(element.get("/Alt", "")).strip()) < 20:
                yield "a figure without words"
            if not any("/BBox" in one for one in _attributes(element)):
                yield "a figure without its box"
        if re.fullmatch("H[1-6]", what):
            level = int(what[1])
            if level > last + 1:
                yield f"H{last} is followed by {what}"
            last = level
            if "/K" not in element:
                yield "an empty heading"
        if what == "Table":
            yield from _table(element)


def _table(table: Any) -> Iterator[str]:
    rows = [row for row, _ in elements(table) if kind(row) == "TR"]
    widths = {
        sum(_span(cell) for cell, parent in elements(row) if parent == "" and kind(cell) in ("TH", "TD"))
        for row in rows
    }
    if len(widths) != 1:
        yield f"a table with rows of {sorted(widths)} cells"
    heads = [cell for row in rows for cell, _ in elements(row) if kind(cell) == "TH"]
    if not heads:
        yield "a table without header cells"
    for head in heads:
        if not any("/Scope" in one for one in _attributes(head)):
            yield "a header cell that does not say of what"


def _attributes(element: Any) -> list[Any]:
    found = element.get("/A", [])
    return [one for one in (found if isinstance(found, Array) else [found]) if isinstance(one, Dictionary)]


def _span(cell: Any) -> int:
    return next((int(one.ColSpan) for one in _attributes(cell) if "/ColSpan" in one), 1)


def _fonts(pdf: pikepdf.Pdf) -> Iterator[str]:
    for one in pdf.objects:
        if not isinstance(one, Dictionary) or one.get("/Type") != Name.Font or str(one.get("/Subtype")) != "/Type0":
            continue
        name, inner = str(one.get("/BaseFont")), one.DescendantFonts[0]
        if not any(key in inner.FontDescriptor for key in ("/FontFile", "/FontFile2", "/FontFile3")):
            yield f"{name} is not embedded"
        if "/ToUnicode" not in one:
            yield f"{name} does not say what its letters mean"


def _page(pdf: pikepdf.Pdf, page: pikepdf.Page, content: bool) -> Iterator[str]:
    if page.get("/Tabs") != Name.S:
        yield "tab order is not that of the tags"
    if len(page.get("/Annots", [])):
        yield "it has annotations"
    if "/StructParents" not in page:
        yield "nothing on it is tagged"
        return
    if not content:
        return
    open_: list[bool] = []  # whether each open section is tagged or an artifact
    marks: list[int] = []
    for operands, operator in pikepdf.parse_content_stream(page):
        word = str(operator)
        if word in ("BDC", "BMC"):
            mark = _mark(operands)
            open_.append(mark is not None or str(operands[0]) == "/Artifact")
            marks += [mark] if mark is not None else []
        elif word == "EMC":
            open_.pop()
        elif word in PAINTING and not any(open_):
            yield f"{word} paints what is neither tagged nor an artifact"
    if open_:
        yield "a section of content is not closed"
    if len(set(marks)) != len(marks):
        yield "two sections of content go by one number"
    owners = _number_tree(pdf.Root.StructTreeRoot.ParentTree).get(int(page.StructParents))
    if owners is None or any(mark >= len(owners) or "/S" not in owners[mark] for mark in marks):
        yield "content that no tag owns"


def _mark(operands: Any) -> int | None:
    about = operands[1] if len(operands) > 1 else None
    return int(about.MCID) if isinstance(about, Dictionary) and "/MCID" in about else None


def _number_tree(node: Any) -> dict[int, Any]:
    found: dict[int, Any] = {}
    numbers = list(node.get("/Nums", []))
    found.update(zip(map(int, numbers[::2]), numbers[1::2], strict=True))
    for kid in node.get("/Kids", []):
        found.update(_number_tree(kid))
    return found
