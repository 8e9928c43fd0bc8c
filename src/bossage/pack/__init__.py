"""The papers and files that a shop uses, made from a plan."""

from __future__ import annotations

from bossage.pack.catalogue import ON_REQUEST, SHEETS
from bossage.pack.files import blank_survey, ordered_files, pack_files
from bossage.pack.order import Form, Order, read_order

__all__ = ["ON_REQUEST", "SHEETS", "Form", "Order", "blank_survey", "ordered_files", "pack_files", "read_order"]
