"""Which engine suits which job of the saw: every threshold between engines, each with its reason.

The tables of engines are in `contents/choose.py`, `money/search.py`, `settings/search.py` and `boards/plan.py`.
"""

from __future__ import annotations

# What lies in given sticks
BEAM_FROM_START = 24  # spans up to which whole lengths are tried before anything else
BEAM_SPANS_UP_TO = 48  # spans that a beam search goes through; above, it runs dry
BEAM_TYPES_UP_TO = 24  # lengths that a beam search carries; above, its states hardly ever meet
FULLEST_WORK_UP_TO = 400_000_000  # units of wood times lengths that the fullest filling of many sticks may go through

# Which sticks to buy
MIXES_COMPARED = 2  # mixes of one price that are filled, of which the better is kept
MIXES_OF_MANY = 2  # mixes of one price that are tried where the sticks are many
PRICES_OF_FEW = 2  # prices above the bound that are looked at where the sticks are few
PRICES_OF_MANY = 64  # and where they are many
PATTERNS_FULL = 150  # sticks up to which column generation has all its patience; above, a share of it
PLACED_UP_TO = 600  # sticks times lengths up to which every slice is placed by CP-SAT
PLACED_STICKS_UP_TO = 60  # and sticks

# How few settings do
WHOLE_PLACINGS_UP_TO = 60_000  # ways to give each length one stick, all of which are compared
FEW_STICKS = 24  # sticks; of more the program over patterns has made what a walk would not better
GROUPED_TYPES_UP_TO = 14  # lengths, because all sets of lengths are listed
HALVED_SPANS_UP_TO = 2  # clear spans in a stick whose contents are listed
PLACES_A_WORK = 400  # sticks times lengths that one unit of settings work may do for, by CP-SAT

# What lies on which board
BOXED_WORK_UP_TO = 60_000  # multisets of panels times their parts for which every layout is listed
BOXED_PAIRS_UP_TO = 800_000  # pairs of layouts weighed: many panels of one size can be put together in many ways
