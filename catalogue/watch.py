"""`catalogue watch`: build, show, and build again at each save.

Builds run in a process of their own, started before there are any threads, since only then is forking workers
safe; it also keeps what it has imported, so a rebuild takes no start-up. Whatever a system says has happened
in the studio's folders only makes this look: what counts is whether the contents of a file that is read are
different.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import signal
import sys
import threading
import time
from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any, NamedTuple

from catalogue.building.disk import CannotWrite
from catalogue.building.folder import Busy, OutputFolder, Refused
from catalogue.building.kind import Definition
from catalogue.building.progress import Teller, finding_text, printable
from catalogue.building.report import Report, Request
from catalogue.building.run import build
from catalogue.building.studio import FOLDERS, STYLES, CannotRead, NotAStudio, find_files, is_passing
from catalogue.preview import News, PreviewServer

Pairs = frozenset[tuple[str, str]]
"""Slugs of styles and clients."""

PORT = 8420
LOOK = 0.1
"""Seconds between looks whether a build that can wait is to be broken off."""
QUIET = 0.1
"""Seconds without a further change after which a burst of saves is taken to be over."""
LONGEST = 1.0
"""Seconds after which a burst is built although it goes on."""
LONGEST_WAIT = 120.0
"""Seconds that another build of the same catalogue is waited for."""
POLL = 1.0
"""Seconds between looks with --poll."""


@dataclass(frozen=True, slots=True)
class Built:
    """What came of a build: a report, or a sentence why there is none."""

    report: Report | None = None
    trouble: str = ""

    @property
    def left(self) -> bool:
        """Whether there is more to make: what no one is looking at."""
        return self.report is not None and self.report.left > 0

    @property
    def wrong(self) -> str:
        """What open pages show: every error, or nothing."""
        if self.report is None:
            return self.trouble
        return "\n\n".join(finding_text(t) for t in self.report.findings if t.finding.is_error)


class Builder:
    """Builds on request in a process of its own, which is started again should it break off."""

    def __init__(self, request: Request, definition: Definition) -> None:
        self._request = request
        self._definition = definition
        self._context: Any = multiprocessing.get_context("fork" if sys.platform == "linux" else "spawn")
        self._start()

    def _start(self) -> None:
        self._pipe, theirs = self._context.Pipe()
        arguments = (self._request, self._definition, theirs, self._pipe)
        if self._context.get_start_method() != "fork":
            arguments = (*arguments[:3], None)
        # Not a daemon: daemons may have no workers of their own.
        self._process = self._context.Process(target=_build_on_request, args=arguments)
        self._process.start()
        theirs.close()

    def build(
        self,
        first: Pairs | None = None,
        interrupted: Callable[[], bool] = lambda: False,
        progress: Callable[[int, int, str], None] = lambda *_: None,
    ) -> Built | None:
        """Build; `first` as in `Request`.

        Args:
            interrupted: asked several times a second. Once it says so the build is broken off, the catalogue stays as
                it was, and the answer is None.
            progress: called now and then with how many are done, of how many, and what comes next.
        """
        try:
            self._pipe.send(("build", first))
            asked = False
            while True:
                if self._pipe.poll(LOOK):
                    answer: Built | _Far | None = self._pipe.recv()
                    if not isinstance(answer, _Far):
                        return answer
                    progress(*answer)
                if not asked and interrupted():
                    self._pipe.send(("break off", None))
                    asked = True
        except (EOFError, OSError):
            self._process.join()
            self._pipe.close()
            # By now there are threads, so the new process is started afresh instead of being forked.
            self._context = multiprocessing.get_context("spawn")
            self._start()
            return Built(
                trouble="The program that builds stopped. The catalogue is as it was; save again to retry."
            )

    def stop(self) -> None:
        """End the builder at once, in the middle of a build too: the catalogue stays whole."""
        with contextlib.suppress(OSError):
            self._pipe.send(("stop", None))
        self._process.join(0.5)
        if self._process.is_alive():
            self._process.terminate()
            self._process.join(2.0)
        if self._process.is_alive():
            self._process.kill()
            self._process.join()
        self._pipe.close()


def _build_on_request(request: Request, definition: Definition, pipe: Any, parents: Any) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, _interrupt)
    if parents is not None:
        parents.close()
    with contextlib.suppress(EOFError, OSError, KeyboardInterrupt):
        while True:
            word, first = pipe.recv()
            if word == "stop":
                return
            if word == "build":  # or else it was to be broken off when it was just done
                pipe.send(_built(replace(request, first=first), definition, pipe.poll, pipe.send))


class _Far(NamedTuple):
    """How far a build is: how many are done, of how many, and what comes next."""

    done: int
    total: int
    what: str


class _BrokenOff(Exception):
    """Something else is wanted before this is done."""


def _interrupt(*_: object) -> None:
    raise KeyboardInterrupt


def _built(
    request: Request, definition: Definition, called: Callable[[], bool], tell: Callable[[_Far], None]
) -> Built | None:
    told = 0.0

    def go_on(*far: Any) -> None:
        nonlocal told
        if called():
            raise _BrokenOff
        if time.monotonic() - told >= LOOK:
            told = time.monotonic()
            tell(_Far(*far))

    end = time.monotonic() + LONGEST_WAIT
    try:
        while True:
            try:
                return Built(build(request, definition, go_on))
            except Busy:  # Given up at once, what was just saved would wait for the next save.
                if time.monotonic() > end:
                    raise
                time.sleep(LOOK)
                go_on(0, 1, "waiting for another build")
    except _BrokenOff:
        return None
    except (NotAStudio, CannotRead, Refused, Busy, CannotWrite) as error:
        return Built(trouble=str(error))
    except Exception as error:
        return Built(
            trouble=f"This could not be built, through a fault of this program: {type(error).__name__}: {error}"
        )


class Changes:
    """Notices that something in the studio's folders may have changed; `wait` tells when a burst of it is
    over.
    """

    def __init__(self, studio: Path, output: Path, *, poll: bool) -> None:
        self._studio = studio
        self._output = Path(os.path.realpath(output))
        self._poll = poll
        self._stirred = threading.Event()
        self._observer: Any = None
        self._watches: dict[Path, tuple[int, Any]] = {}
        self._last_look: object = None
        self._next_look = 0.0

    def start(self) -> None:
        if self._poll:
            self._last_look = self._look()
            return
        from watchdog.observers import Observer

        self._observer = Observer()
        self._observer.start()
        self.follow_folders()

    def stop(self) -> None:
        if self._observer is not None:
            self._observer.stop()
            self._observer.join(2.0)

    def wait(self) -> None:
        """Return when something has stirred and then been quiet for a moment."""
        if self._poll:
            while (look := self._look()) == self._last_look:
                time.sleep(POLL)
            self._last_look = look
            return
        # A wait without end can't be interrupted on Windows.
        while not self._stirred.wait(0.5):
            pass
        end = time.monotonic() + LONGEST
        while time.monotonic() < end:
            self._stirred.clear()
            if not self._stirred.wait(QUIET):
                break
        self._stirred.clear()
        self.follow_folders()

    def has_stirred(self) -> bool:
        """Whether something has stirred since `wait` returned; it will return again after a quiet moment."""
        if not self._poll:
            return self._stirred.is_set()
        if time.monotonic() < self._next_look:
            return False
        self._next_look = time.monotonic() + POLL
        return self._look() != self._last_look

    def follow_folders(self) -> None:
        """Watch the folders that are there now: one may have been made, renamed or replaced since."""
        if self._observer is None:
            return
        wanted = [
            (self._studio, False),
            *((self._studio / n, True) for n in FOLDERS),
        ]
        for folder, deep in wanted:
            try:
                number = folder.stat().st_ino
            except OSError:
                number = -1
            known = self._watches.get(folder)
            if known is not None and known[0] == number:
                continue
            if known is not None:
                with contextlib.suppress(Exception):
                    self._observer.unschedule(known[1])
                del self._watches[folder]
            if number != -1:
                with contextlib.suppress(OSError):
                    watch = self._observer.schedule(_Changes(self._note), str(folder), recursive=deep)
                    self._watches[folder] = (number, watch)

    def _note(self, path: str) -> None:
        where = Path(path)
        if is_passing(where.name) or where == self._output or self._output in where.parents:
            return
        self._stirred.set()

    def _look(self) -> object:
        """Sizes, times and numbers of the studio's files: cheap to get over a network."""
        seen = []
        for name in FOLDERS:
            for base, _, files in sorted(os.walk(self._studio / name)):
                for file in sorted(files):
                    with contextlib.suppress(OSError):
                        status = os.stat(os.path.join(base, file))  # noqa: PTH116, PTH118
                        seen.append((base, file, status.st_size, status.st_mtime_ns, status.st_ino))
        return seen


class _Changes:
    """What a watchdog observer calls; reading a file is not a change."""

    def __init__(self, note: Callable[[str], None]) -> None:
        self._note = note

    def dispatch(self, event: Any) -> None:
        if event.event_type in ("opened", "closed_no_write"):
            return
        # A folder says so for each thing in it, also for what is none of ours; the thing itself says it too.
        if event.is_directory and event.event_type == "modified":
            return
        for path in (event.src_path, getattr(event, "dest_path", "")):
            if path:
                self._note(os.fsdecode(path))


def watch(
    request: Request,
    definition: Definition,
    *,
    port: int | None,
    poll: bool,
    ready: Callable[[str], None] = lambda _: None,
) -> int:
    """Build and serve until interrupted; `ready` is called with the address once there is something to show.

    Raises what a build raises when the request itself is wrong.
    """
    find_files(request.studio)
    OutputFolder(request.output).check(request.studio)
    builder = Builder(request, definition)
    news = News()
    changes = Changes(request.studio, request.output, poll=poll)
    server = None
    try:
        seen = _contents(request.studio)
        build_and_tell(builder, request, news)
        server = _serve(request, port, news)
        changes.start()
        print(f"The catalogue is at {server.address} (Ctrl-C ends this).", flush=True)
        ready(server.address)
        while True:
            now = _contents(request.studio)
            if now == seen:
                changes.wait()
                continue
            if changes.has_stirred():  # while something was built
                changes.wait()
                now = _contents(request.studio)
            seen = now
            if build_and_tell(builder, request, news, looked_at(news.pages)):
                # What nobody is looking at follows, unless something is saved meanwhile: then that comes first.
                stirred = partial(_has_changed, request.studio, changes, seen)
                build_and_tell(builder, request, news, None, stirred)
    except KeyboardInterrupt:
        print("\nStopped watching.", flush=True)
        return 0
    finally:
        news.close()
        if server is not None:
            server.shutdown()
            server.server_close()
        changes.stop()
        builder.stop()


def _contents(studio: Path) -> str:
    """Changes with the contents of any file that a build reads, and with nothing else."""
    try:
        return find_files(studio).fingerprint
    except (NotAStudio, CannotRead, OSError) as error:
        return str(error)


def _serve(request: Request, port: int | None, news: News) -> PreviewServer:
    ports = [port] if port is not None else [*range(PORT, PORT + 20), 0]
    for number in ports:
        try:
            server = PreviewServer(request.output, number, news, request.studio)
        except OSError as error:
            if number == ports[-1]:
                raise Refused(
                    f"Port {number} is taken: {error.strerror}. Choose another with --port."
                ) from error
        else:
            threading.Thread(target=server.serve_forever, args=(0.1,), daemon=True).start()
            return server
    raise AssertionError("no port was tried")


def _has_changed(studio: Path, changes: Changes, seen: str) -> bool:
    return changes.has_stirred() and _contents(studio) != seen


def looked_at(pages: Collection[str]) -> Pairs | None:
    """The drafts whose pages are open; None when no page is open at all, so that nothing need come first."""
    if not pages:
        return None
    parts = (page.split("/") for page in pages)
    return frozenset((p[1], p[2]) for p in parts if len(p) == 4 and p[0] == STYLES)


def build_and_tell(
    builder: Builder,
    request: Request,
    news: News,
    first: Pairs | None = None,
    interrupted: Callable[[], bool] = lambda: False,
) -> bool:
    """Build, and tell what came of it; `first` and `interrupted` as for `Builder.build`.

    Returns:
        Whether more is to be made.
    """
    with Teller(sys.stderr) as teller:  # takes the time from when it is made
        built = builder.build(first, interrupted, teller.progress)
    if built is None:
        return False
    if built.report is None:
        print(printable(built.trouble), file=sys.stderr, flush=True)
        news.tell((), built.wrong)
        return False
    if not built.left:
        teller.findings(built.report)
    teller.built(built.report, request.output)
    print(end="", flush=True)
    news.tell(built.report.changed, built.wrong)
    return built.left
