"""A drawing is a list of shapes in millimetres first, and bytes (SVG, DXF, PNG) second."""

from __future__ import annotations
