"""From layouts to places, cuts in the order of sawing and offcuts."""

from __future__ import annotations

from dataclasses import dataclass, field

from bossage.saw.boards.guillotine import Box, Shape, most_of, row_of, tidy
from bossage.saw.boards.records import CutSheet, Panel, PlacedPanel, SheetCut, SheetJob, SheetOffcut, SheetStock

MOST_ASKED = 12  # panels that a sheet could hold by area, up to which the true most is looked for

Region = tuple[int, int, int, int]  # x, y, w, h; far kerfs within


def room_of(sheet: SheetStock, kerf: int) -> tuple[int, int]:
    """Width and length between the trimmed edges, a kerf on the far side of each."""
    return sheet.width_nm - 2 * sheet.trim_nm + kerf, sheet.length_nm - 2 * sheet.trim_nm + kerf


def fits(shape: Shape, w: int, h: int) -> bool:
    """Whether a panel lies in a rectangle, turned if it may be."""
    return (shape.w <= w and shape.h <= h) or (shape.turn and shape.h <= w and shape.w <= h)


def prices_of(job: SheetJob) -> list[int]:
    """Prices to weigh by; without any price the area bought stands in, whole cm²."""
    if any(s.price_cents for s in job.sheets):
        return [s.price_cents for s in job.sheets]
    return [0 if s.owned else s.width_nm * s.length_nm // 10**14 + 1 for s in job.sheets]


def most_per_sheet(panel: Panel, sheet: SheetStock, kerf_nm: int) -> tuple[int, tuple[PlacedPanel, ...], bool]:
    """Most of one panel on one sheet, where they lie, and whether one more is proven impossible."""
    w, h = room_of(sheet, kerf_nm)
    if w <= 0 or h <= 0:
        return 0, (), True
    shape = Shape(panel.width_nm + kerf_nm, panel.length_nm + kerf_nm, panel.turn)
    n, box, proven = most_of(shape, w, h)
    if box is None:
        return 0, (), proven
    bench = Bench(kerf=kerf_nm, panels=(panel,))
    bench.saw(tidy(box), (sheet.trim_nm, sheet.trim_nm, w, h))
    return n, tuple(bench.placed), proven


def most_told(job: SheetJob, panels: tuple[Panel, ...]) -> tuple[tuple[str, str, int, bool], ...]:
    """The most of each panel alone on each sheet, for panels that go few to a sheet."""
    out = []
    for p in panels:
        for s in job.sheets:
            # how many narrow strips a sheet might hold helps nobody, and costs more than all the rest
            if s.width_nm * s.length_nm <= MOST_ASKED * p.width_nm * p.length_nm:
                n, _, proven = most_per_sheet(p, s, job.kerf_nm)
                out.append((p.name, s.name, n, proven))
    return tuple(out)


def cut_sheet(
    job: SheetJob, panels: tuple[Panel, ...], s: int, number: int, box: Box, room: tuple[int, int]
) -> CutSheet:
    """One sheet of stock `s`, trimmed and cut to a layout."""
    stock = job.sheets[s]
    bench = Bench(kerf=job.kerf_nm, panels=panels)
    bench.trim(stock)
    bench.saw(tidy(box), (stock.trim_nm, stock.trim_nm, *room))
    return CutSheet(
        stock=stock,
        number=number,
        panels=tuple(bench.placed),
        cuts=tuple(bench.cuts),
        offcuts=tuple(sorted(bench.offcuts, key=lambda o: (-o.width_nm * o.length_nm, o.x_nm, o.y_nm))),
    )


@dataclass(slots=True)
class Bench:
    """Turns a layout into places, cuts in order and offcuts."""

    kerf: int
    panels: tuple[Panel, ...]
    placed: list[PlacedPanel] = field(default_factory=list)
    cuts: list[SheetCut] = field(default_factory=list)
    offcuts: list[SheetOffcut] = field(default_factory=list)

    def trim(self, sheet: SheetStock) -> None:
        """The four factory edges, long ones first."""
        t, w, h = sheet.trim_nm, sheet.width_nm, sheet.length_nm
        if t:
            self._cut("y", t, (0, 0, w, h), trim=True)
            self._cut("y", w - t, (t, 0, w, h), trim=True)
            self._cut("x", t, (t, 0, w - t, h), trim=True)
            self._cut("x", h - t, (t, t, w - t, h), trim=True)

    def saw(self, box: Box, region: Region) -> None:
        """Free the box from its region, the larger rest in one, then divide it.

        What divides it may free it too: where the last rest lies beyond the last part, the parts come off the whole
        with the fence where it stands, and the rest stays in one all the same.
        """
        x, y, w, h = region
        sides = [side for side, over in (("x", h > box.h), ("y", w > box.w)) if over]
        if (w - box.w) * h > w * (h - box.h):
            sides.reverse()
        divides = "" if box.parts is None else "y" if box.axis == "x" else "x"
        for number, side in enumerate(sides, start=1):
            if side == divides and number == len(sides):
                break
            if side == "x":
                self._cut("x", y + box.h - self.kerf, self._corners(x, y, w, h))
                self._rest((x, y + box.h, w, h - box.h))
                h = box.h
            else:
                self._cut("y", x + box.w - self.kerf, self._corners(x, y, w, h))
                self._rest((x + box.w, y, w - box.w, h))
                w = box.w
        if box.parts is None:
            self._place(box, x, y)
        else:
            self._divide(box, (x, y, w, h))

    def _place(self, box: Box, x: int, y: int) -> None:
        p = self.panels[box.panel]
        self.placed.append(
            PlacedPanel(
                name=p.name,
                x_nm=x,
                y_nm=y,
                width_nm=p.length_nm if box.turned else p.width_nm,
                length_nm=p.width_nm if box.turned else p.length_nm,
                turned=box.turned,
            )
        )

    def _divide(self, box: Box, region: Region) -> None:
        """Part by part from the near edge, so that equal parts come off with the fence where it stands."""
        x, y, w, h = region
        row = row_of(box, box.axis)
        freed: list[tuple[Box, Region]] = []
        for part in row:
            along = (x, y, part.w, h) if box.axis == "x" else (x, y, w, part.h)
            freed.append((part, along))
            if along == (x, y, w, h):
                break  # the last part, and no rest beyond it
            if box.axis == "x":
                self._cut("y", x + part.w - self.kerf, self._corners(x, y, w, h))
                x, w = x + part.w, w - part.w
            else:
                self._cut("x", y + part.h - self.kerf, self._corners(x, y, w, h))
                y, h = y + part.h, h - part.h
        else:
            self._rest((x, y, w, h))
        for part, at in freed:
            self.saw(part, at)

    def _corners(self, x: int, y: int, w: int, h: int) -> tuple[int, int, int, int]:
        return x, y, x + w - self.kerf, y + h - self.kerf

    def _cut(self, along: str, at: int, board: tuple[int, int, int, int], trim: bool = False) -> None:
        self.cuts.append(
            SheetCut(number=len(self.cuts) + 1, along="x" if along == "x" else "y", at_nm=at, board=board, trim=trim)
        )

    def _rest(self, region: Region) -> None:
        x, y, w, h = region
        if w > self.kerf and h > self.kerf:
            self.offcuts.append(SheetOffcut(x_nm=x, y_nm=y, width_nm=w - self.kerf, length_nm=h - self.kerf))
