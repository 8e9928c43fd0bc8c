"""The command line: read a brief, plan, write the papers, and say in a few lines what was found.

Exit codes: 0 planned; 1 planned, but a check says stop; 2 the brief or the command is faulty; 3 cannot be planned;
4 the papers cannot be written.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import App, CycloptsError, Parameter

from bossage import __version__
from bossage.cli_pieces import add_commands
from bossage.errors import BossageError
from bossage.files import CannotWrite

if TYPE_CHECKING:
    from bossage.plan import Tell

PLANNED, SAYS_STOP, FAULTY, NO_PLAN, NOT_WRITTEN = range(5)

app = App(
    name="bossage",
    help="From a tape measure on the wall to a wooden relief that hides, hangs and comes off again.",
    version=__version__,
    result_action="return_value",
    help_on_error=False,
    help_format="plaintext",  # markup would load a markdown reader for a page that has none
)

AsJson = Annotated[bool, Parameter(name="--json", negative=(), help="Print the outcome as JSON, for programs.")]
Quiet = Annotated[bool, Parameter(name="--quiet", negative=(), help="Print nothing unless something is wrong.")]


@app.command
def plan(
    brief: Path,
    /,
    *,
    out: Path,
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> int:
    """Plan the whole job and write its papers.

    Args:
        brief: The brief, a TOML file.
        out: The folder for the papers; files of the same name in it are replaced, others stay.
    """
    from bossage.cli_report import Report
    from bossage.run import plan_and_write

    report = Report(as_json=as_json, quiet=quiet)
    with _progress(quiet or as_json) as tell:
        outcome = plan_and_write(brief, out, tell=tell)
    return report.planned(outcome)


@app.command
def check(brief: Path, /, *, as_json: AsJson = False, quiet: Quiet = False) -> int:
    """Read a brief, plan it without writing anything, and print every check.

    Args:
        brief: The brief, a TOML file.
    """
    from bossage.cli_report import Report
    from bossage.run import plan_only

    report = Report(as_json=as_json, quiet=quiet)
    with _progress(quiet or as_json) as tell:
        outcome = plan_only(brief, tell=tell)
    return report.checked(outcome)


@app.command
def sizes(brief: Path, /, *, as_json: AsJson = False, quiet: Quiet = False) -> int:
    """List sizes and places to choose from, each with what it gives up, and the smallest change that mends the brief's.

    Args:
        brief: The brief, a TOML file.
    """
    from bossage.cli_sizes import read_sizes, sizes_json, sizes_text
    from bossage.serial import dumps

    wanted, candidates, own, changes = read_sizes(brief)
    if as_json:
        sys.stdout.buffer.write(dumps(sizes_json(candidates, own, changes)))
    elif not quiet:
        print(sizes_text(wanted, candidates, own, changes))
    return PLANNED if candidates else NO_PLAN


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


add_commands(app)


def main(arguments: list[str] | None = None) -> int:
    """Run one command; what a maker can do wrong ends in a sentence, never in a traceback."""
    try:
        outcome = app(arguments, exit_on_error=False, print_error=False)
    except CycloptsError as fault:
        return _complain(f"{fault} `bossage --help` lists what can be asked.", FAULTY)
    except CannotWrite as fault:
        return _complain(str(fault), NOT_WRITTEN)
    except BossageError as fault:
        return _complain(str(fault), FAULTY)
    except BrokenPipeError:
        sys.stderr.close()  # the reader of our output has left; there is nobody to tell
        return PLANNED
    except KeyboardInterrupt:
        return _complain("Stopped; nothing was written.", NO_PLAN)
    return outcome if isinstance(outcome, int) else PLANNED


def _complain(text: str, code: int) -> int:
    print(text, file=sys.stderr)
    return code


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
