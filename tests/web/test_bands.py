"""Rules as places on the wall, and the unit that a request is answered in."""

from __future__ import annotations

from bossage.examples import example_text
from bossage.store import Pieces
from bossage.web.desk import SAID_IN, Desk


def test_bands_lie_where_the_rules_do_and_say_what_their_checks_say(tmp_path):
    desk = Desk(Pieces(tmp_path / "pieces.sqlite"))
    piece_id = desk.make(example_text("s2-brenlow-terrace"), "begin")["piece_id"]
    view = desk.answer(piece_id)["plan"]
    checks = {check["check_id"]: check for check in view["checks"]}
    bands = {checks[band["check_id"]]["name"]: band for band in view["geometry"]["bands"]}
    for band in bands.values():
        assert band["verdict"] == checks[band["check_id"]]["verdict"]
    # by hand: 50 mm all round a door of 600 x 480 at (1150, 540); 150 mm over a bench of 420
    cover, bench, lift = bands["cover_margin"], bands["bench_gap"], bands["lift_room"]
    assert [cover[key] for key in ("x_mm", "y_mm", "width_mm", "height_mm")] == [1100, 490, 700, 580]
    assert [bench[key] for key in ("x_mm", "y_mm", "width_mm", "height_mm")] == [650, 420, 1600, 150]
    assert bench["verdict"] == "caution"
    assert (lift["x_mm"], lift["y_mm"], lift["moves"]) == (890, 1200, True)


def test_another_unit_changes_words_and_nothing_else(tmp_path):
    desk = Desk(Pieces(tmp_path / "pieces.sqlite"))
    piece_id = desk.make(example_text("s2-brenlow-terrace"), "begin")["piece_id"]
    own = desk.answer(piece_id)
    token = SAID_IN.set("in")
    try:
        other = desk.answer(piece_id)
    finally:
        SAID_IN.reset(token)
    assert other["plan"]["unit"] == "in"
    assert other["plan"]["title_block"]["size"]["text"].endswith(" in")
    assert other["piece"] == own["piece"]
    for same in ("stamp", "blocks", "shades", "families"):
        assert other["plan"][same] == own["plan"][same]
    assert desk.answer(piece_id) == own | {"changed": []}
