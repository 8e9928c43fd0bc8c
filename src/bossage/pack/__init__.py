"""The papers and files that a shop uses, made from a plan."""

from __future__ import annotations
