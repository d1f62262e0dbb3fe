"""What a build says while it goes on and when it is done: a bar on a terminal, plain lines elsewhere."""

from __future__ import annotations

import re
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from catalogue.building.as_called import to_be_typed
from catalogue.building.studio import CLIENTS, CLOTHS, OWN

if TYPE_CHECKING:
    from rich.progress import Progress

    from catalogue.building.gathering import Told
    from catalogue.building.report import Report


SHOWN = 6
"""Of those whom a finding concerns, as many are named."""
_UNSAFE = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")
"""Characters that move a terminal's cursor, change its colours or turn the direction of text round."""


def printable(text: str) -> str:
    """Text from a file, fit for a terminal."""
    return _UNSAFE.sub("\ufffd", text)


class Teller:
    """Tells of a build on `stream`; a context manager, so that a bar is cleared whatever happens."""

    def __init__(self, stream: TextIO | None = None) -> None:
        self._stream: TextIO | None = stream or sys.stderr  # none, where it was closed
        self._bar: Progress | None = None
        self._started = time.monotonic()

    def __enter__(self) -> Teller:
        return self

    def __exit__(self, *_: object) -> None:
        if self._bar is not None:
            self._bar.stop()
            self._bar = None

    def progress(self, done: int, total: int, what: str) -> None:
        """Show how far it is. Without a terminal nothing is said until the end."""
        if self._stream is None or not self._stream.isatty():
            return
        if self._bar is None:
            from rich.console import Console
            from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

            self._bar = Progress(
                BarColumn(),
                MofNCompleteColumn(),
                TimeRemainingColumn(),
                TextColumn("{task.description}", markup=False),
                console=Console(file=self._stream),
                transient=True,
            )
            self._bar.add_task("", total=total)
            self._bar.start()
        self._bar.update(self._bar.task_ids[0], completed=done, total=total, description=printable(what))

    def findings(self, report: Report, stream: TextIO | None = None) -> None:
        """Every finding with its place, the line and a caret."""
        for told in report.findings:
            print(finding_text(told), file=stream or self._stream)

    def built(self, report: Report, output: Path) -> None:
        """The last line of a build."""
        if report.finished_earlier:
            print("An interrupted build was completed first.")
        words = [_count(report.drafts, "draft")]
        if not report.changed:
            words.append("nothing changed")
        else:
            words.append(f"{report.made} made")
            words.append(f"{_count(len(report.changed), 'file')} changed")
        words += ["more to follow"] if report.left else self._matters(report)
        if report.waiting and not report.left:
            words[-1] += to_be_typed(" (“catalogue check” names them)")
        print(f"{printable(str(output / 'index.html'))}: {', '.join(words)} ({self._seconds()}).")

    def checked(self, report: Report) -> None:
        """The last lines of a check: what drafts wait for, and the sum of it all."""
        for sentence in report.lacking:
            print(to_be_typed(printable(sentence)))
        words = [_count(report.drafts, "draft"), *(self._matters(report) or ["nothing wrong"])]
        print(f"Checked {', '.join(words)} ({self._seconds()}).")

    def _seconds(self) -> str:
        return f"{time.monotonic() - self._started:.1f} s"

    def _matters(self, report: Report) -> list[str]:
        errors = sum(told.finding.is_error for told in report.findings)
        warnings = len(report.findings) - errors
        words = [_count(errors, "error")] if errors else []
        words += [_count(warnings, "warning")] if warnings else []
        return words + ([f"{report.waiting} waiting for measurements"] if report.waiting else [])


def finding_text(told: Told) -> str:
    """A finding as printed; with the clients, orders and sizes it concerns, when it came up in drafting."""
    text = to_be_typed(printable(str(told.finding)))
    if told.clients and not _in_own_file(told):
        text += f"\n    for {_some(told.clients)}"
    if told.others:
        text += f"\n    {'also for' if told.clients else 'for'} {_some(told.others, '; ')}"
    if told.figures:
        shown = [f"{_some(who.split(', '))} ({figures})" for who, figures in told.figures[:SHOWN]]
        left = len(told.figures) - SHOWN
        text += f"\n    with other figures for {', '.join(shown)}"
        text += f" and for others, in {_count(left, 'more figure')}" if left > 0 else ""
    return text


def _in_own_file(told: Told) -> bool:
    """Whether the file that a finding is in is that of the one client whom it concerns, whom the file names."""
    place = told.finding.place
    if place is None or len(told.clients) != 1 or told.others:
        return False
    return place.file.startswith(f"{CLIENTS}/") and place.file not in (CLOTHS, OWN)


def _some(names: Sequence[str], between: str = ", ") -> str:
    shown = printable(between.join(names[:SHOWN]))
    return shown + (f" and {len(names) - SHOWN} more" if len(names) > SHOWN else "")


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}{'' if number == 1 else 's'}"
