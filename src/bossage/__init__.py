"""bossage: from a tape measure on the wall to a relief that hangs, hides and comes off."""

from __future__ import annotations

import os

__version__ = "0.1.0"

# Before numpy is loaded: its linear algebra then adds up in one order on any number of cores, and many small systems
# are not kept waiting by threads that spin for one another (forty times slower on a busy machine).
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
