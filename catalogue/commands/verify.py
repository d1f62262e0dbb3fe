"""`catalogue verify`: compare every file of a catalogue with what was written."""

from __future__ import annotations

import argparse

from catalogue.commands.arguments import Commands, add_command, catalogue_of, output, studio
from catalogue.commands.ending import ALL_MADE, SOMETHING_WRONG, say


def add(commands: Commands) -> None:
    """Add the command, with its options."""
    command = add_command(
        commands,
        run,
        "verify",
        "compare every file of a catalogue with what was written",
        "Reads every file of a catalogue and compares it with what the last build wrote. Lists files that are missing "
        "or changed, and files that no build wrote; writes nothing. Exit status 1 when a file is missing or changed.",
    )
    studio(command)
    output(command, "the catalogue's folder")


def run(given: argparse.Namespace) -> int:
    from catalogue.building.as_called import to_be_typed
    from catalogue.building.progress import printable
    from catalogue.building.published import verify

    folder = catalogue_of(given)
    found = verify(folder)
    if found.trouble:
        return say(found.trouble, SOMETHING_WRONG)
    for path in found.missing:
        print(printable(f"missing: {path}"))
    for path in found.changed:
        print(printable(f"changed: {path}"))
    for path in found.others:
        print(printable(f"not written by this program: {path}"))
    sums = [f"{len(p)} {w}" for p, w in ((found.missing, "missing"), (found.changed, "changed")) if p]
    told = ", ".join(sums) or "each is as it was written"
    print(printable(f"{folder}: {found.files} files looked into, {told}."))
    if not found.ok:
        print(to_be_typed("“catalogue build” makes them again."))
    return ALL_MADE if found.ok else SOMETHING_WRONG
