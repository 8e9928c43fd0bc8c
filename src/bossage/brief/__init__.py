"""Reading a brief: every fault at once, every default with its reason, then frozen records."""

from __future__ import annotations

from bossage.brief.canon import brief_to_dict, digest
from bossage.brief.faults import BriefFaults, Fault
from bossage.brief.reader import read_brief
from bossage.brief.records import Brief
from bossage.brief.schema import brief_schema

__all__ = ["Brief", "BriefFaults", "Fault", "brief_schema", "brief_to_dict", "digest", "read_brief"]
