"""Drawings of a pack, each from the plan's records, in millimetres of the thing itself."""

from __future__ import annotations
