"""The tables of engines: the page says what they say, their modules are there, and the examples are answered so."""

from __future__ import annotations

from pathlib import Path

import pytest
from tools.engines import PAGE, TABLES, page

from bossage.engines import Engine, first_answer

SRC = Path(__file__).resolve().parent.parent / "src" / "bossage"
ROWS = [engine for _, _, _, engines in TABLES for engine in engines]


def test_the_page_is_printed_from_the_tables():
    assert PAGE.read_text(encoding="utf-8") == page(), "run `python tools/engines.py --write`"


@pytest.mark.parametrize("engine", ROWS, ids=lambda engine: engine.name)
def test_a_row_names_its_code_and_its_source(engine):
    assert all((SRC / name).is_file() for name in engine.module.split(", "))
    assert all((engine.when, engine.why, engine.proof, engine.source))


def test_rows_are_asked_in_order_until_one_answers():
    asked = []

    def row(name, runs, answer):
        def run(task):
            asked.append(name)
            return answer

        return Engine(name=name, module="", when="", why="", proof="", source="", runs=runs, run=run)

    rows = (
        row("silent", lambda task: True, None),
        row("elsewhere", lambda task: task > 5, "wrong"),
        row("answers", lambda task: True, "right"),
        row("too late", lambda task: True, "wrong"),
    )
    assert first_answer(rows, 1) == "right"
    assert asked == ["silent", "answers"]
    assert first_answer(rows[:2], 1) is None
