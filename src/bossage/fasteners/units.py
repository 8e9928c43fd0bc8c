"""Inch and pound units of the NDS, so that its equations can be written with the symbols and constants it prints."""

from __future__ import annotations

INCH_MM = 25.4
LBF_N = 4.4482216152605
PSI_MPA = LBF_N / INCH_MM**2
LB_PER_INCH_N_PER_MM = LBF_N / INCH_MM
