"""The verdicts on hanging: load path, studs, screws, mass, what hangs over people, the lift."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.body import Role
from bossage.brief.records import Below
from bossage.brief.terms import PERHAPS_PEOPLE_AT
from bossage.checks import Check, Verdict
from bossage.fasteners import TIP_COVER_NM
from bossage.hang.case import IN_STUDS, Case
from bossage.hang.fixing_checks import rating_check, spacing_check, studs_check
from bossage.hang.hinge_records import HingePlan
from bossage.hang.hinge_stile import BESIDE_STILE, STILE_GLUE
from bossage.hang.holds import LEAST_MARGIN, short_of
from bossage.hang.latch import CATCH_LINK
from bossage.hang.panel import longest_screw_nm
from bossage.hang.places import studs_met
from bossage.hang.post import NO_STUD
from bossage.hang.post_checks import post_checks
from bossage.hang.records import CleatPlan, Link
from bossage.hang.stays import BLOCK_SCREWS, GLUE_LINK, NO_PLACE, SCREWS_LINK, WALL_LINK
from bossage.hang.stile_screws import STILE_SCREWS
