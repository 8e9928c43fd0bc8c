"""Long work, each in a process of its own: it can be stopped at any moment and does not slow the server.

The process holds one end of a pipe whose other end is the server's, so it ends with the server however that ends, and
takes its passing folder with it.
"""

from __future__ import annotations

import json
import os
import pickle
import secrets
import shutil
import struct
import subprocess
import tempfile
import threading
from collections import OrderedDict
from contextlib import suppress
from dataclasses import dataclass, field
from typing import IO, Any

from bossage.errors import BossageError
from bossage.plan import Plan
from bossage.system import end_group, own_program, start_in_group

KEPT = 8
WORKING_MOST = 2
ENDING_S = 10.0  # how long the end of the server waits for its work to be cleared away
LENGTH = struct.Struct(">Q")  # before an order, so that its pipe can stay open after it


class NoSuchJob(BossageError):
    """A job that was never begun, or was forgotten because of later ones."""


class NotDone(BossageError):
    """A job that has made nothing, or not yet."""


class TooMany(BossageError):
    """More work at once than is good for one machine."""


@dataclass(slots=True)
class Job:
    """One piece of long work."""

    job_id: str
    stamp: str
    state: str = "waiting"
    stage: str = "begin"
    share: float | None = 0.0
    words: str = "Beginning …"
    file_name: str | None = None
    kind: str = ""
    data: bytes = b""
    process: subprocess.Popen[bytes] | None = field(default=None, repr=False)
    thread: threading.Thread | None = field(default=None, repr=False)


class Jobs:
    """The jobs of one server; the last few are remembered with what they made."""

    def __init__(self) -> None:
        """None yet."""
        self._lock = threading.Lock()
        self._jobs: OrderedDict[str, Job] = OrderedDict()
        self._ended = False

    def begin(self, plan: Plan, *, sheets: tuple[str, ...] | None, form: str) -> Job:
        """Begin to make papers.

        Raises:
            TooMany: Others are still being made.
        """
        job = Job(job_id=secrets.token_hex(8), stamp=plan.stamp)
        with self._lock:
            if self._ended:
                raise TooMany("The workbench is being closed.")
            if sum(other.state in ("waiting", "working") for other in self._jobs.values()) >= WORKING_MOST:
                raise TooMany("Papers are being made already. Wait for them, or cancel them.")
            self._jobs[job.job_id] = job
            while len(self._jobs) > KEPT:
                oldest = next(iter(self._jobs))
                if self._jobs[oldest].state in ("waiting", "working"):
                    break
                del self._jobs[oldest]
        order = pickle.dumps((plan, sheets, form), protocol=pickle.HIGHEST_PROTOCOL)
        job.thread = threading.Thread(target=self._run, args=(job, order), daemon=True)
        job.thread.start()
        return job

    def job(self, job_id: str) -> Job:
        """One job.

        Raises:
            NoSuchJob: There is none.
        """
        with self._lock:
            found = self._jobs.get(job_id)
        if found is None:
            raise NoSuchJob("There is no such work; it may have been forgotten. Begin it again.")
        return found

    def cancel(self, job_id: str) -> Job:
        """Stop a job; one that is done stays done.

        Raises:
            NoSuchJob: There is none.
        """
        job = self.job(job_id)
        with self._lock:
            if job.state in ("waiting", "working"):
                job.state, job.words = "cancelled", "Stopped; nothing was made."
                if job.process is not None:
                    end_group(job.process)
        return job

    def stop_all(self) -> None:
        """Stop everything and clear its folders away, at the end of the server; nothing can be begun afterwards."""
        with self._lock:
            self._ended = True
            jobs = list(self._jobs.values())
        for job in jobs:
            self.cancel(job.job_id)
        for job in jobs:
            if job.thread is not None:
                job.thread.join(ENDING_S)

    def _run(self, job: Job, order: bytes) -> None:
        folder = tempfile.mkdtemp(prefix="bossage-papers-")
        try:
            self._work(job, order, folder)
        except OSError:
            pass  # no process could be started
        finally:
            shutil.rmtree(folder, ignore_errors=True)
        with self._lock:
            if job.state in ("waiting", "working"):
                job.state, job.words = "failed", "The papers could not be made. Try again; if it fails, report it."

    def _work(self, job: Job, order: bytes, folder: str) -> None:
        with self._lock:
            if job.state == "cancelled":
                return
            job.process = start_in_group(
                own_program("bossage.web.papers", folder),
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                env={**os.environ, "TMPDIR": folder, "TEMP": folder, "TMP": folder},
            )
            job.state = "working"
        with job.process as process:
            assert process.stdin is not None
            assert process.stdout is not None
            # the process was killed, or died: its state says which
            with suppress(OSError, ValueError):
                process.stdin.write(LENGTH.pack(len(order)) + order)
                process.stdin.flush()
                self._listen(job, process.stdout)
            end_group(process)

    def _listen(self, job: Job, out: IO[bytes]) -> None:
        for line in out:
            said: dict[str, Any] = json.loads(line)
            if "size" in said:
                data = out.read(said["size"])
                if len(data) == said["size"]:
                    self._finish(job, said, data)
                return
            with self._lock:
                job.stage, job.share, job.words = said["stage"], said["share"], said["words"]

    def _finish(self, job: Job, said: dict[str, Any], data: bytes) -> None:
        with self._lock:
            if job.state != "working":
                return
            job.data, job.file_name, job.kind = data, said["name"], said["kind"]
            job.state, job.stage, job.share, job.words = "done", "done", 1.0, "Ready."
