"""How a command ends: its exit status, and what can't be carried out said in a sentence."""

from __future__ import annotations

import contextlib
import gc
import os
import signal
import sys
from collections.abc import Callable
from typing import NoReturn

ALL_MADE, SOMETHING_WRONG, WRONG_USAGE, NOT_WRITTEN, STOPPED = 0, 1, 2, 3, 130


def guarded(run: Callable[[], int]) -> int:
    """`run()`, with what can't be carried out said in a sentence."""
    if hasattr(signal, "SIGTERM"):
        signal.signal(signal.SIGTERM, _stop)
    _collect_seldom()
    try:
        status = run()
        if sys.stdout is not None:
            sys.stdout.flush()
        return status
    except KeyboardInterrupt:
        return say("Stopped. The catalogue is as it was before.", STOPPED)
    except _not_to_be_done() as error:
        return say(str(error), WRONG_USAGE)
    except _failed() as error:
        return say(str(error), NOT_WRITTEN)
    except BrokenPipeError:
        _let_go_of_output()  # Whoever read our words has gone.
        return SOMETHING_WRONG
    except OSError as error:
        _let_go_of_output()
        about = f" ({error.filename})" if error.filename else ": what this prints could not be written"
        return say(f"{error.strerror or type(error).__name__}{about}.", NOT_WRITTEN)
    except Exception as error:
        if os.environ.get("CATALOGUE_DEBUG"):
            raise
        what = f"{type(error).__name__}: {error}"
        return say(
            f"A fault of this program, not of your files: {what} (for details set CATALOGUE_DEBUG=1).",
            NOT_WRITTEN,
        )


def _not_to_be_done() -> tuple[type[Exception], ...]:
    """What is raised where what was asked for can't be meant; imported when something is raised."""
    from catalogue.building.folder import Refused
    from catalogue.building.studio import NotAStudio, UnknownName

    return NotAStudio, UnknownName, Refused


def _failed() -> tuple[type[Exception], ...]:
    """What is raised where files can't be read or written."""
    from catalogue.building.disk import CannotWrite
    from catalogue.building.folder import Busy
    from catalogue.building.studio import CannotRead

    return Busy, CannotRead, CannotWrite


def _let_go_of_output() -> None:
    """Have nothing more written to standard output: closing it at the end must not complain again."""
    if sys.stdout is not None:
        with contextlib.suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _collect_seldom() -> None:
    """Look for garbage less often: a build keeps nearly all it makes, and looking through that takes long."""
    gc.set_threshold(100_000, 50, 100)


def tell(text: str) -> None:
    """Say something that stops nothing."""
    say(text, ALL_MADE)


def say(text: str, status: int) -> int:
    """Print a sentence to standard error; the exit status is given back."""
    from catalogue.building.as_called import to_be_typed
    from catalogue.building.progress import printable

    print(f"catalogue: {to_be_typed(printable(text))}", file=sys.stderr)
    return status


def _stop(*_: object) -> NoReturn:
    raise KeyboardInterrupt
