"""One module for each station's sheet; each makes its parts from the plan's records and nothing else."""

from __future__ import annotations
