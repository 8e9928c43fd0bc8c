"""Every solid part behind the blocks and on the wall: one record that all later stages read."""

from __future__ import annotations

from bossage.body.build import wood_of
from bossage.body.hardware import KEEPER_MARK_NM
from bossage.body.made import Source, source_of
from bossage.body.naming import key_of, marks_of, word_of
from bossage.body.records import (
    WALL,
    Body,
    Choice,
    Clash,
    FixingPlace,
    FixtureSolid,
    How,
    Joint,
    LeftOver,
    MadeAt,
    Move,
    Part,
    Role,
    Runner,
    Step,
    Wants,
    Way,
)
from bossage.body.seen import seen_wall_half
from bossage.body.sizes import own_size_tried, sizes_to_choose
from bossage.body.stage import plan_body
from bossage.body.swing import FLAP_SCREWS_NM, HINGE_INSET_NM, Swing, swing_of
from bossage.body.uncut import uncut
from bossage.body.wants import amended

__all__ = [
    "FLAP_SCREWS_NM",
    "HINGE_INSET_NM",
    "KEEPER_MARK_NM",
    "WALL",
    "Body",
    "Choice",
    "Clash",
    "FixingPlace",
    "FixtureSolid",
    "How",
    "Joint",
    "LeftOver",
    "MadeAt",
    "Move",
    "Part",
    "Role",
    "Runner",
    "Source",
    "Step",
    "Swing",
    "Wants",
    "Way",
    "amended",
    "key_of",
    "marks_of",
    "own_size_tried",
    "plan_body",
    "seen_wall_half",
    "sizes_to_choose",
    "source_of",
    "swing_of",
    "uncut",
    "wood_of",
    "word_of",
]
