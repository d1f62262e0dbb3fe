"""Worker processes that make things side by side, and survive one of them dying or hanging.

Each worker gets its tasks over a pipe of its own, so a worker that is killed takes only the task it was at,
and the workers end by themselves when the pipe closes, also when the build itself was killed.
"""

from __future__ import annotations

import contextlib
import itertools
import multiprocessing
import os
import pickle
import signal
import sys
import threading
import time
import traceback
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from multiprocessing.connection import Connection, wait
from multiprocessing.context import ForkContext, SpawnContext
from multiprocessing.process import BaseProcess
from queue import SimpleQueue
from typing import Generic, TypeVar

from catalogue.between_runs import packed

FORKS = sys.platform == "linux"
AHEAD = 2
"""Tasks given to a worker at a time, so that it has the next one at hand when it has done one."""


NEAR = 400
"""Waiting tasks that are looked through for one akin to a worker's last."""

T = TypeVar("T")
A = TypeVar("A")


def _no_kin(task: object) -> str:
    return ""


@dataclass(frozen=True, slots=True)
class Outcome(Generic[T, A]):
    """What came of a task: its answer, or why there is none.

    Attributes:
        task: the task as it was given.
        answer: what the work returned; None when it failed.
        trouble: one sentence when it failed; empty otherwise.
        kind: name of the exception's class when one was raised.
        detail: the traceback, for those who mend the program; may be empty.
    """

    task: T
    answer: A | None = None
    trouble: str = ""
    kind: str = ""
    detail: str = ""


@dataclass(eq=False, slots=True)
class _Worker(Generic[T]):
    process: BaseProcess
    pipe: Connection
    given: deque[T] = field(default_factory=deque)
    since: float = 0.0
    kin: str = ""


class Pool(Generic[T, A]):
    """Up to `count` processes that each call `work(task)`.

    Where the system can fork safely (Linux), workers share what the parent has read and imported. Elsewhere
    they start afresh, so `work` and the tasks must survive pickling. With a count of 1, work is done in this
    process.

    Args:
        work: called with one task, in the worker; its answer must survive pickling.
        count: number of processes.
        patience: seconds a single task may take before its worker is given up.
        release: called in a forked worker before it starts (to let go of locks it must not hold).
    """

    def __init__(
        self,
        work: Callable[[T], A],
        count: int,
        *,
        patience: float = 120.0,
        release: Callable[[], None] | None = None,
    ) -> None:
        self._work = work
        self._count = count
        self._patience = patience
        self._release = release
        self._workers: list[_Worker[T]] = []
        self._context = start_method()

    def __enter__(self) -> Pool[T, A]:
        return self

    def __exit__(self, *_: object) -> None:
        self.stop()

    def run(self, tasks: Sequence[T], kin: Callable[[T], str] = _no_kin) -> Iterator[Outcome[T, A]]:
        """Do all tasks, yielding each outcome as it comes; the order is not the tasks' order.

        Args:
            kin: tasks for which it gives the same text share work, so they are given to one process as far as that
                keeps none waiting; "" for a task that shares none. They should follow on each other.
        """
        if self._count <= 1 or len(tasks) <= 1:
            yield from (attempt(self._work, task) for task in tasks)
            return
        waiting = deque(tasks)
        unanswered = len(waiting)
        while unanswered:
            self._fill(waiting, kin)
            for outcome in self._collect(waiting):
                unanswered -= 1
                yield outcome

    def stop(self) -> None:
        """End all workers at once; what they were at is lost."""
        for worker in self._workers:
            worker.process.kill()
        for worker in self._workers:
            worker.process.join()
            worker.pipe.close()
        self._workers.clear()

    def _fill(self, waiting: deque[T], kin: Callable[[T], str]) -> None:
        while len(self._workers) < min(self._count, len(waiting)):
            self._workers.append(self._start())
        for _ in range(AHEAD):
            for worker in self._workers:
                if waiting and len(worker.given) < AHEAD:
                    if not worker.given:
                        worker.since = time.monotonic()
                    task = self._next(worker, waiting, kin)
                    worker.given.append(task)
                    # It died; the next look at its pipe finds out and deals with the task.
                    with contextlib.suppress(OSError):
                        worker.pipe.send(task)

    def _next(self, worker: _Worker[T], waiting: deque[T], kin: Callable[[T], str]) -> T:
        """The next task for a worker: one akin to its last, or else one that is akin to no other worker's, or any."""
        others = {other.kin for other in self._workers if other is not worker and other.kin}
        chosen = free = None
        for at, task in enumerate(itertools.islice(waiting, NEAR)):
            mine = kin(task)
            if mine and mine == worker.kin:
                chosen = at
                break
            if free is None and mine not in others:
                free = at
        at = next((n for n in (chosen, free) if n is not None), 0)
        task = waiting[at]
        del waiting[at]
        worker.kin = kin(task)
        return task

    def _start(self) -> _Worker[T]:
        ours, theirs = self._context.Pipe()
        close = [w.pipe for w in self._workers] + [ours] if FORKS else []
        release = self._release if FORKS else None
        process = self._context.Process(target=_serve, args=(self._work, theirs, close, release), daemon=True)
        process.start()
        theirs.close()
        return _Worker(process, ours)

    def _collect(self, waiting: deque[T]) -> list[Outcome[T, A]]:
        busy = {w.pipe: w for w in self._workers if w.given}
        now = time.monotonic()
        limit = min((w.since + self._patience for w in busy.values()), default=now)
        ready = wait(list(busy), timeout=max(0.0, limit - now))
        outcomes = []
        for pipe in ready:
            worker = busy[pipe]  # type: ignore[index]
            try:
                outcome = pickle.loads(worker.pipe.recv_bytes())
            except (EOFError, OSError):
                outcomes.append(self._lost(worker, waiting, "the process that was making this stopped"))
            else:
                worker.given.popleft()
                worker.since = time.monotonic()
                outcomes.append(outcome)
        if not ready:
            for worker in [w for w in busy.values() if now - w.since >= self._patience]:
                worker.process.kill()
                told = f"this took longer than {self._patience:g} seconds and was stopped"
                outcomes.append(self._lost(worker, waiting, told))
        return outcomes

    def _lost(self, worker: _Worker[T], waiting: deque[T], why: str) -> Outcome[T, A]:
        worker.process.join()
        worker.pipe.close()
        self._workers.remove(worker)
        task = worker.given.popleft()
        waiting.extendleft(reversed(worker.given))
        return Outcome(task, trouble=why)


def attempt(work: Callable[[T], A], task: T) -> Outcome[T, A]:
    """`work(task)` as an outcome, whatever happens short of being interrupted."""
    try:
        return Outcome(task, work(task))
    except Exception as error:
        return Outcome(task, None, str(error), type(error).__name__, traceback.format_exc())


def _serve(
    work: Callable[[T], A], pipe: Connection, close: list[Connection], release: Callable[[], None] | None
) -> None:
    # Ctrl-C reaches every process of the terminal; only the parent answers it, and ends the workers itself.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    for inherited in close:
        inherited.close()
    if release:
        release()
    tasks: SimpleQueue[tuple[T] | None] = SimpleQueue()
    threading.Thread(target=_take_in, args=(pipe, tasks), daemon=True).start()
    while (given := tasks.get()) is not None:
        try:
            pipe.send_bytes(packed(attempt(work, given[0])))
        except OSError:
            return


def _take_in(pipe: Connection, tasks: SimpleQueue[tuple[T] | None]) -> None:
    """Take tasks from the pipe as they come.

    Were they left in it while an answer is on its way, and both larger than what a pipe holds, each side would wait
    for ever for the other to read.
    """
    try:
        with contextlib.suppress(EOFError, OSError):
            while True:
                tasks.put((pipe.recv(),))
    finally:
        tasks.put(None)


def start_method() -> ForkContext | SpawnContext:
    """How processes are started: by forking where that is safe."""
    return multiprocessing.get_context("fork") if FORKS else multiprocessing.get_context("spawn")


def cores() -> int:
    """Processor cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
