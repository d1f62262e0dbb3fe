"""A function in a process of its own, forked from this one: it can be killed as a command can, and imports nothing."""

from __future__ import annotations

import io
import multiprocessing
import os
import signal
import sys
from collections.abc import Callable


class Forked:
    """A function under way in a process forked from this one.

    Args:
        work: what it does; its answer is the status the process ends with.
        new_session: whether the process leads a session of its own, as a command of a terminal does.

    Attributes:
        stdout: what it and what it starts print, and what it complains of.
        pid: its number.
    """

    def __init__(self, work: Callable[[], int | None], *, new_session: bool = False) -> None:
        reading, writing = os.pipe()
        self._process = multiprocessing.get_context("fork").Process(
            target=_do, args=(work, reading, writing, new_session)
        )
        self._process.start()
        os.close(writing)
        self.stdout = open(reading, encoding="utf-8")  # noqa: PTH123, SIM115 - it is given, not named
        assert self._process.pid is not None
        self.pid = self._process.pid

    def poll(self) -> int | None:
        """The status it ended with, None while it is under way."""
        return self._process.exitcode

    def wait(self, timeout: float | None = None) -> int:
        """Its status, once it has ended."""
        self._process.join(timeout)
        assert self._process.exitcode is not None, f"it has not ended in {timeout} seconds"
        return self._process.exitcode

    def send_signal(self, number: int) -> None:
        if self._process.is_alive():
            os.kill(self.pid, number)


def _do(work: Callable[[], int | None], reading: int, writing: int, new_session: bool) -> None:
    os.close(reading)
    if new_session:
        os.setsid()
    signal.signal(signal.SIGINT, signal.default_int_handler)
    for stream in (1, 2):
        os.dup2(writing, stream)
    os.close(writing)
    sys.stdout = io.TextIOWrapper(io.FileIO(1, "w", closefd=False), line_buffering=True)
    sys.stderr = io.TextIOWrapper(io.FileIO(2, "w", closefd=False), line_buffering=True)
    sys.exit(work())
