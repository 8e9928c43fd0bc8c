"""Loaded before any test: the package sets how linear algebra adds up, which must be before numpy is loaded."""

from typing import Any

import bossage  # noqa: F401
from tests.every_function import EveryFunction, all_tests_are_run


def pytest_configure(config: Any) -> None:
    """Where all tests are run, the functions that they run are marked."""
    if all_tests_are_run(config):
        config.pluginmanager.register(EveryFunction(), "every function")
