"""The command line: read a brief, plan, write the papers, and say in a few lines what was found.

Exit codes: 0 planned; 1 planned, but a check says stop; 2 the brief or the command is faulty; 3 cannot be planned;
4 the machine refuses: papers or output cannot be written; 5 a fault of bossage; 130 stopped with Ctrl-C.

Started without a word, as by a double click, the workbench opens.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import App, CycloptsError, Parameter

from bossage import __version__, cli_menu, cli_pieces, cli_store
from bossage.cli_pieces import StoreFile
from bossage.cli_rim import complain, guarded

if TYPE_CHECKING:
    from bossage.plan import Tell

PLANNED, SAYS_STOP, FAULTY, NO_PLAN, NOT_WRITTEN = range(5)
WITHOUT_A_WORD = ("open",)

app = App(
    name="bossage",
    help="From a tape measure on the wall to a wooden relief that hides, hangs and comes off again. "
    "Without a command the workbench opens.",
    version=__version__,
    suppress_keyboard_interrupt=False,  # `guarded` says what is kept
    result_action="return_value",
    help_on_error=False,
    help_format="plaintext",  # markup would load a markdown reader for a page that has none
    # no option that empties a list, and only defaults that say something: a number, a choice that is made
    default_parameter=Parameter(negative_iterable=(), show_default=lambda value: value or None),
)

AsJson = Annotated[bool, Parameter(name="--json", negative=(), help="Print the outcome as JSON, for programs.")]
Quiet = Annotated[bool, Parameter(name="--quiet", negative=(), help="Print nothing unless something is wrong.")]
Overwrite = Annotated[
    bool,
    Parameter(
        name="--overwrite", negative=(), help="Replace files also that bossage did not make; the old ones stay beside."
    ),
]


@app.command
def plan(
    brief: Path,
    /,
    *,
    out: Path,
    sheets: str = "",
    form: str = "",
    files: str = "",
    store: StoreFile = None,
    overwrite: Overwrite = False,
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> int:
    """Plan the whole job and write its papers.

    Args:
        brief: The brief: a TOML file, or a piece that is kept, by name or number.
        out: The folder for the papers; those of an earlier plan in it give way, all other files stay.
        sheets: Only these sheets, each a file of its own: names parted by commas, such as saw,paint; or all.
        form: In which form: print, large (18 pt and more) or text (for a screen reader); several parted by commas.
        files: Files for other programs as well: svg, dxf, glb (map, backer, ring, wall; the piece as a model); or all.
    """
    from bossage.cli_report import Report
    from bossage.run import plan_and_write

    report = Report(as_json=as_json, quiet=quiet)
    with _progress(quiet or as_json) as tell:
        outcome = plan_and_write(
            brief, out, sheets=sheets, form=form, files=files, store=store, overwrite=overwrite, tell=tell
        )
    return report.planned(outcome)


@app.command
def survey(
    *, out: Path, paper: str = "A4", unit: str = "mm", overwrite: Overwrite = False, quiet: Quiet = False
) -> int:
    """Print a blank sheet to fill in at the wall, before there is a brief.

    Args:
        out: The file to write, such as survey.pdf.
        paper: A4 or Letter.
        unit: mm or in.
    """
    from bossage.run import write_survey

    write_survey(out, paper=paper, unit=unit, overwrite=overwrite)
    if not quiet:
        print(f"{out} is ready to print, at 100 %.")
    return PLANNED


@app.command
def check(brief: Path, /, *, store: StoreFile = None, as_json: AsJson = False, quiet: Quiet = False) -> int:
    """Read a brief, plan it without writing anything, and print every check.

    Args:
        brief: The brief: a TOML file, or a piece that is kept, by name or number.
    """
    from bossage.cli_report import Report
    from bossage.run import plan_only

    report = Report(as_json=as_json, quiet=quiet)
    with _progress(quiet or as_json) as tell:
        outcome = plan_only(brief, store=store, tell=tell)
    return report.checked(outcome)


@app.command
def sizes(brief: Path, /, *, as_json: AsJson = False, quiet: Quiet = False) -> int:
    """List sizes and places to choose from, each with what it gives up, and the smallest change that mends the brief's.

    Args:
        brief: The brief, a TOML file.
    """
    from bossage.cli_sizes import read_sizes, sizes_json, sizes_text
    from bossage.serial import dumps

    found = read_sizes(brief)
    if as_json:
        sys.stdout.buffer.write(dumps(sizes_json(found)))
    elif not quiet:
        print(sizes_text(found))
    return PLANNED if found.candidates else NO_PLAN


@app.command
def replan(
    plan: Path,
    /,
    *,
    shop: tuple[Path, ...] = (),
    glued: tuple[str, ...] = (),
    spoiled: tuple[str, ...] = (),
    tray: tuple[str, ...] = (),
    lost: tuple[str, ...] = (),
    found: tuple[str, ...] = (),
    stock: tuple[str, ...] = (),
    unpainted: Annotated[bool, Parameter(negative=())] = False,
    no_saw: Annotated[bool, Parameter(negative=())] = False,
    no_repaint: Annotated[bool, Parameter(negative=())] = False,
    light: str = "",
    write: Path | None = None,
    overwrite: Overwrite = False,
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> int:
    """After a mishap: the fewest changes to the relief that what is glued and what lies in the trays allow.

    Args:
        plan: The brief, a TOML file, or the plan.json of its pack.
        shop: A file of what the shop says: counts of the trays as CSV, or anything as TOML. May be given again.
        glued: What is glued and stays: "rows 1-6", "7·1-7·9", "7·12", or "7·12 = 34" where another height was laid.
        spoiled: Places whose own block is lost: "7·12, 3·4b".
        tray: What a tray holds now: "70/34 = 11", or "70/34/moss 62 = 3" for one shade.
        lost: Blocks fewer than there should be: "70/34 = 2".
        found: Blocks more than there should be: "70/22 = 2".
        stock: Sticks that lie in the shop, where not those that the plan leaves: "none", or "70 = 340, 612".
        unpainted: Nothing in the trays is painted yet.
        no_saw: Do not saw blocks shorter.
        no_repaint: Painted blocks keep their paint; the fade gives way.
        light: The side that light comes from now: left, right, top or bottom.
        write: A new file for the brief with the quotas and pins of the re-plan; beside a plan.json, only these.
    """
    from bossage.cli_replan import Asked, mended_json, mended_text, no_mend_json, replanned
    from bossage.replan import NoMend
    from bossage.serial import dumps

    asked = Asked(
        plan=plan,
        shop=shop,
        glued=glued,
        spoiled=spoiled,
        tray=tray,
        lost=lost,
        found=found,
        stock=stock,
        unpainted=unpainted,
        no_saw=no_saw,
        no_repaint=no_repaint,
        light=light,
        write=write,
        overwrite=overwrite,
    )
    with _progress(quiet or as_json) as tell:
        mended = replanned(asked, tell=tell)
    if isinstance(mended, NoMend):
        if as_json:
            sys.stdout.buffer.write(dumps(no_mend_json(mended)))
            return NO_PLAN
        return complain(f"{mended.reason}\n{mended.remedy}", NO_PLAN)
    if as_json:
        sys.stdout.buffer.write(dumps(mended_json(mended)))
    elif not quiet:
        print(mended_text(mended))
    return PLANNED


@app.command(name="read-card")
def read_card(
    source: Path,
    /,
    *,
    brief: Path,
    sheet: int = 1,
    corners: str = "",
    greys: str = "",
    paper: float | None = None,
    mixed: Annotated[bool, Parameter(negative=())] = False,
    out: Path | None = None,
    overwrite: Overwrite = False,
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> int:
    """Read painted test cards off a photo of their sheet, refit the families, and say what to put into the brief.

    Args:
        source: The photo, or readings typed into a file that ends in .toml or .csv: "fern 20:1" = [71.2, -9.4, 8.8].
        brief: The brief whose test card sheet it is.
        sheet: Which of its sheets, where there are several.
        corners: Centres of the four marks in pixels, x,y,x,y,…, the one with the hole first, then clockwise.
        greys: CIE lightness of bought greys stuck over the printed ones, light to dark: 88,74,60,46,34,24.
        paper: CIE lightness of the paper.
        mixed: The scales of this brief are in their pots already: keep their recipes.
        out: A new file for the brief with the readings in it.
    """
    from bossage.cli_card import Asked, card_json, card_text, write_brief
    from bossage.cli_card import read_card as read
    from bossage.serial import dumps

    asked = Asked(sheet=sheet, corners=corners, greys=greys, paper=paper, mixed=mixed)
    found = read(source, brief, asked)
    if out is not None:
        write_brief(found, out, overwrite=overwrite)
    if as_json:
        sys.stdout.buffer.write(dumps(card_json(found)))
    elif not quiet:
        print(card_text(found))
    return PLANNED


@app.command
def schema(*, as_json: AsJson = False, quiet: Quiet = False) -> int:
    """Print the JSON Schema of a brief, for an editor that completes and checks.

    A schema is JSON in any case: `--json` puts it on one line, `--quiet` only tells by the exit code that it is there.
    """
    from bossage.cli_report import Report

    return Report(as_json=as_json, quiet=quiet).schema()


@app.command
def example(name: str = "", /, *, as_json: AsJson = False, quiet: Quiet = False) -> int:
    """Print an example brief to begin with; without a name, list them.

    Args:
        name: Which one, such as `first`.
    """
    from bossage.cli_report import Report

    return Report(as_json=as_json, quiet=quiet).example(name)


cli_pieces.add_commands(app)
cli_store.add_commands(app)
cli_menu.add_commands(app)


_KEPT = {
    "plan": "No paper was written: what lay in the folder is as it was.",
    "open": "Every change that the page showed as saved is kept.",
    "keep": "A revision that was not named as kept is not kept; all earlier ones are.",
}


def main(arguments: list[str] | None = None) -> int:
    """Run one command; whatever happens ends in a sentence and an exit code, never in a traceback."""
    words = (sys.argv[1:] if arguments is None else arguments) or list(WITHOUT_A_WORD)
    kept = _KEPT.get(words[0], "Nothing was changed or written.")
    return guarded(lambda: _run(words), arguments=words, kept=kept)


def _run(words: list[str]) -> int:
    try:
        outcome = app(words, exit_on_error=False, print_error=False)
    except CycloptsError as fault:
        return complain(f"{fault} `bossage --help` lists what can be asked.", FAULTY)
    return outcome if isinstance(outcome, int) else PLANNED


@contextmanager
def _progress(silent: bool) -> Iterator[Tell]:
    if silent or not sys.stderr.isatty():
        yield lambda stage: None
        return
    from rich.console import Console

    with Console(stderr=True).status("Reading the brief …", spinner="line") as status:
        yield lambda stage: status.update(f"Working out: {stage} …")


if __name__ == "__main__":
    sys.exit(main())
