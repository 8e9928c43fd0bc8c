"""Colour as a small science of its own: spaces, difference, spectra, paint mixing, scales, pots and the fade.

Nothing here knows a brief, a file or a clock. Colours travel as arrays whose last axis is three long.
"""

from __future__ import annotations
