"""The paint's part of the calendar: cards, coats batch by batch, the backer beside them, the blocking test."""

from __future__ import annotations

from bossage.brief.records import Brief
from bossage.paint.dabs import DAB_MIN, Mixing
from bossage.paint.days import PaintDays
from bossage.press.back_jobs import BackJob
from bossage.press.calendar_records import HOUR_S, Line
from bossage.press.records import Press
from bossage.press.schedule_records import DAY_S
from bossage.press.working_hours import fit
from bossage.press.young import TEST_H, YOUNG_DAYS

BLEED_H = 24.0
"""Stain-blocking primer on redwood and western redcedar: 24 to 48 h (Wood Handbook FPL-GTR-190 ch. 16, read)."""

HARDEN_H = 24.0
"""After the last coat, before the blocking test; and white glue until full cure (retailer's guide, read)."""

TEST_CARD_TITLE = "Test card: tinter alone and its mixes; read it, plan again"
DUST_H = 1.0
"""After sanding, before the first tin is opened: dust hangs in the air (common practice, no source)."""

DUST_NOTE = "Then air the room for an hour."
MIX_NOTE = f"{DAB_MIN} min each."
MIX_TITLE = "Mix shades on cards: a day a dab, some twice"
RUB_TITLE = "Rub the test card's neat tinter, a week old: no colour may come off"
RUB_NOTE = "No pot before."
TRY_TITLE = "Test pieces of the wood: sand, coat as on the sheet 'Stain, oil, wax', a day a coat; read them, plan again"
TRY_NOTE = "Away from dust. No block is coated till they are seen dry."
CARD_NOTE = "Have each one seen dry."
DRYING, WARM = "Drying of the blocks", "At least 10 °C (50 °F) in the room."
SCRAP_TITLE = "Scrap test: dye scraps off the trimmed ends, a day; glue two offcuts on, a day; knock them off"
SCRAP_NOTE = "Wood must tear, or paint lines instead."
COAT_NOTE = "Glue faces stay bare."


def mix(line: Line, mixing: Mixing, card_days: int) -> int:
    """Cards and dabs dry while the sticks rest, from day 1 on; when the last one is dry.

    Where a tinter is not known, its test card is painted on day 1. No pot is begun before the card's field of tinter
    alone has been rubbed: a tinter that never dries would spoil all base.
    """
    begin = dry_s = line.entries[0].from_s
    if card_days:
        dry_s = begin + card_days * DAY_S
        line.add("mix", _card_title(card_days), begin, dry_s, False, CARD_NOTE)
    if mixing.dab_days:
        rubbed_s = begin
        if mixing.test_card_days:
            line.add("mix", TEST_CARD_TITLE, begin, begin + mixing.test_card_days * DAY_S, False, "")
            rubbed_s = begin + max(YOUNG_DAYS, mixing.test_card_days) * DAY_S
        test_s = round(TEST_H * HOUR_S)
        rubbed_s = fit(line.work, rubbed_s, test_s)
        line.add("test", RUB_TITLE, rubbed_s, rubbed_s + test_s, False, RUB_NOTE)
        mixed_s = rubbed_s + test_s + mixing.dab_days * DAY_S
        line.add("mix", MIX_TITLE, rubbed_s + test_s, mixed_s, False, MIX_NOTE)
        dry_s = max(dry_s, mixed_s)
    return dry_s


def _card_title(card_days: int) -> str:
    """The last day is the one after the coats, on which cards are judged."""
    coated = "day 1" if card_days == 2 else f"days 1 to {card_days - 1}"
    return f"A card of every shade: primer and all coats on {coated}, judged dry a day after"


def scrap_test(line: Line, days: int) -> None:
    """Whether glue holds on the dye is known before a board is dyed: beside the sticks' rest, from day 1 on."""
    if days:
        begin = line.entries[0].from_s
        line.add("test", SCRAP_TITLE, begin, begin + days * DAY_S, False, SCRAP_NOTE)


def try_on_wood(line: Line, days: int) -> int:
    """Test pieces of a clear finish, from the saw on, beside the slices' rest; when they are seen dry."""
    begin = fit(line.work, line.at, 0)
    if days:
        line.add("test", TRY_TITLE, begin, begin + days * DAY_S, False, TRY_NOTE)
    return begin + days * DAY_S


def coat(
    line: Line, brief: Brief, paint: PaintDays, each_h: float, backer: Backer, *, mixed_s: int, clear_s: int
) -> None:
    """Each round batch by batch, each batch with its drying, in which the backer is coated as far as the time goes."""
    bleeds = any(name in brief.blocks.species for name in ("redwood", "redcedar"))
    last = [run for run in paint.blocks if run.dry_h][-1]
    told = iter((COAT_NOTE,))
    warm = iter((WARM,))
    for run in paint.blocks:
        if run.step == "paint":
            if line.at < mixed_s:  # primer does not wait for the cards
                backer.works(line, by_s=mixed_s)
            line.at = max(line.at, mixed_s)
        if run.dry_h:
            line.at = max(line.at, clear_s)
        batches = paint.batches if run.dry_h else 1
        for batch in range(1, batches + 1):
            title = run.title if batches == 1 else f"{run.title}: batch {batch} of {batches}"
            line.do(
                run.step,
                title,
                run.minutes * each_h * (paint.shares[batch - 1] if batches > 1 else 1),
                next(told, "") if run.dry_h else "",
            )
            if run.dry_h:
                least = HARDEN_H if run is last else BLEED_H if bleeds and run.step == "prime" else 0.0
                begin = line.at
                # a batch leaves the rack dry for the next one; only after the last one all of them wait
                hours = max(run.dry_h, least) if batch == batches else run.dry_h
                line.wait("dry", DRYING, hours, next(warm, ""))
                dry, line.at = line.at, begin
                backer.works(line, by_s=dry)
                line.at = max(line.at, dry)
    backer.works(line)


class Backer:
    """Coats of the backer. It lies apart from the blocks: hands are at it while they dry, and it dries meanwhile."""

    def __init__(self, jobs: tuple[BackJob, ...], fixed_h: float) -> None:
        self.left, self.fixed_h, self.dry_s = list(jobs), fixed_h, 0

    def works(self, line: Line, *, by_s: int | None = None) -> None:
        """All rounds whose work ends by then, each when the one before is dry; without a time all, and their drying."""
        while self.left:
            job = self.left[0]
            at, entries = line.at, len(line.entries)
            line.at = max(line.at, self.dry_s)
            # tape comes off while the sealer is soft: what is begun is ended the same day
            hours = self.fixed_h * job.share
            line.do(job.step, job.title, hours, job.note, unbroken=hours * HOUR_S <= line.work.to_s - line.work.from_s)
            if by_s is not None and line.at > by_s:
                line.at = at
                del line.entries[entries:]
                return
            begin = line.at
            line.wait(job.wait, job.wait_title, job.wait_h)
            self.dry_s, line.at = line.at, begin
            self.left.pop(0)
        if by_s is None:
            line.at = max(line.at, self.dry_s)


def blocking_test(line: Line, press: Press) -> int:
    """Two spares in the clamps before any face is pressed, as long as the last row of a day: till the next working
    morning, which is when it is over. Screws from behind press no face."""
    if press.way.name == "screws":
        return line.at
    line.do(
        "test",
        "Blocking test: two coated spares in the clamps, release paper between",
        TEST_H,
        unbroken=True,
    )
    begin = line.at
    morning_s = fit(line.work, (begin // DAY_S + 1) * DAY_S, 0)
    line.wait(
        "cure", "The spares in the clamps", (morning_s - begin) / HOUR_S, "The paper must come off without a mark."
    )
    over, line.at = line.at, begin
    return over
