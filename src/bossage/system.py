"""What differs between systems and between ways to be installed: programs of our own, groups, ports, refusals.

This is the one place that asks which system runs bossage. Windows and macOS are written from memory of their manuals,
and untried.
"""

from __future__ import annotations

import ctypes
import errno
import os
import runpy
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, MutableMapping
from contextlib import suppress
from typing import Any

POSIX = os.name == "posix"
#: Modules that run as programs of their own, beside the program that the maker started.
PROGRAMS = ("bossage.web.papers", "bossage.pack.typeset")

_OWN_PROGRAM = "--own-program"
_LIBRARIES = "LD_LIBRARY_PATH"
_PAUSE_S = 0.1  # between asking a group to end and clearing up behind the group
_SYNCHRONIZE, _ACCESS_DENIED, _WAIT_TIMEOUT = 0x0010_0000, 5, 0x102  # names and values of Windows
_IN_USE_ON_WINDOWS = (32, 33)  # a file that another program has open, or holds locked


def own_program(module: str, *words: str) -> list[str]:
    """The command that runs a module of `PROGRAMS` as a program of its own.

    A frozen folder has no Python: its one program runs the module when its first word asks for that (`run_own`).
    """
    if module not in PROGRAMS:
        raise ValueError(f"{module} is not known as a program of its own")
    return [sys.executable, _OWN_PROGRAM, module, *words] if is_frozen() else [sys.executable, "-m", module, *words]


def this_program() -> list[str]:
    """The command that starts bossage itself, wherever somebody stands who gives the command."""
    return [sys.executable] if is_frozen() else [sys.executable, "-m", "bossage"]


def run_own(words: list[str]) -> bool:
    """Run the program of our own that the words of the command line ask for; whether they asked for one."""
    if len(words) < 2 or words[0] != _OWN_PROGRAM or words[1] not in PROGRAMS:
        return False
    sys.argv = words[1:]
    runpy.run_module(words[1], run_name="__main__", alter_sys=True)
    return True


def is_frozen() -> bool:
    """Whether this runs from a folder that carries Python within itself (`make bundle`)."""
    return bool(getattr(sys, "frozen", False))


def has_desktop_entries() -> bool:
    """Whether menus are made of files as freedesktop.org has them: Linux and its kin, not macOS."""
    return POSIX and sys.platform != "darwin"


def give_back_libraries(environment: MutableMapping[str, str]) -> None:
    """Take out of the environment where a frozen folder has its libraries.

    The loader has read the place by now. A browser that is started from here must find the libraries of the system.
    """
    before = environment.pop(f"{_LIBRARIES}_ORIG", None)
    if before:
        environment[_LIBRARIES] = before
    else:
        environment.pop(_LIBRARIES, None)


def start_in_group(command: list[str], **options: Any) -> subprocess.Popen[bytes]:
    """Start a program in a group of its own, to be ended with all that it starts."""
    return subprocess.Popen(command, start_new_session=POSIX, **options)


def end_group(process: subprocess.Popen[bytes]) -> None:
    """End a program that was started by `start_in_group`, and all that it started."""
    with suppress(OSError):
        if POSIX:
            os.killpg(process.pid, signal.SIGKILL)
            return
        subprocess.run(["taskkill", "/F", "/T", "/PID", str(process.pid)], capture_output=True, check=False)
    if not POSIX:
        process.kill()


def end_rest_of_group() -> None:
    """End what a program in a group of its own has started. Windows has no such groups, and these end by themselves."""
    if POSIX and os.getpgrp() == os.getpid():
        os.killpg(os.getpid(), signal.SIGTERM)  # the program that calls this does not heed the signal
        time.sleep(_PAUSE_S)


def is_alive(number: int) -> bool:
    """Whether a process of this number runs."""
    if not POSIX:
        kernel = ctypes.WinDLL("kernel32", use_last_error=True)  # type: ignore[attr-defined, unused-ignore]
        return _is_alive_on_windows(kernel, number, ctypes.get_last_error)  # type: ignore[attr-defined, unused-ignore]
    try:
        os.kill(number, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


def _is_alive_on_windows(kernel: Any, number: int, last_error: Callable[[], int]) -> bool:
    """There `os.kill` would end the process, so Windows is asked for a handle."""
    kernel.OpenProcess.restype = ctypes.c_void_p
    handle = kernel.OpenProcess(_SYNCHRONIZE, False, number)
    if not handle:
        return last_error() == _ACCESS_DENIED
    try:
        return bool(kernel.WaitForSingleObject(ctypes.c_void_p(handle), 0) == _WAIT_TIMEOUT)
    finally:
        kernel.CloseHandle(ctypes.c_void_p(handle))


def flush(handle: int) -> None:
    """Have the bytes of an open file on the disk itself; on macOS `fsync` leaves them in the memory of the drive."""
    full = _full_flush()
    if full is not None:
        with suppress(OSError):  # a disk of the network may know only the other
            full(handle)
            return
    os.fsync(handle)


def _full_flush() -> Callable[[int], object] | None:
    if not POSIX:
        return None
    import fcntl

    command = getattr(fcntl, "F_FULLFSYNC", None)
    return None if command is None else lambda handle: fcntl.fcntl(handle, command)


def claim_port(listener: socket.socket) -> None:
    """Ask for a port that no other program has, also shortly after another program had the port.

    What POSIX means by 'reuse' Windows does by itself; its own 'reuse' lets two programs have one port.
    """
    option = socket.SO_REUSEADDR if POSIX else getattr(socket, "SO_EXCLUSIVEADDRUSE", ~socket.SO_REUSEADDR)
    listener.setsockopt(socket.SOL_SOCKET, option, 1)


def reader_has_left(fault: OSError) -> bool:
    """Whether the reader of our output has gone. Windows calls that an argument that does not fit."""
    return isinstance(fault, BrokenPipeError) or (not POSIX and fault.errno == errno.EINVAL and fault.filename is None)


def is_in_use(fault: OSError) -> bool:
    """Whether a file was refused because another program has the file open, which only Windows does."""
    return getattr(fault, "winerror", None) in _IN_USE_ON_WINDOWS
