"""Loaded before any test: the package sets how linear algebra adds up, which must be before numpy is loaded."""

import bossage  # noqa: F401
