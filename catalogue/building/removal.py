"""A build that would remove most of a catalogue, because its sources have vanished, is not taken to be meant."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from catalogue.building.folder import Refused
from catalogue.building.manifest import Manifest
from catalogue.building.studio import CLIENTS, STYLES, Files

FEW = 10
"""Of fewer files than this, all have to be gone."""


def held_by(files: Files) -> dict[str, tuple[str, ...]]:
    """The names of the style files and the client files, as the manifest keeps them."""
    return {
        STYLES: tuple(path.name for path in files.styles),
        CLIENTS: tuple(path.name for path in files.clients),
    }


def vanished(before: Mapping[str, tuple[str, ...]], files: Files) -> str:
    """A sentence when all style or client files are gone, or more than half of ten or more; empty otherwise."""
    for folder, now in held_by(files).items():
        names = before.get(folder, ())
        gone = [name for name in names if name not in set(now)]
        if names and (not now or (len(names) >= FEW and len(gone) * 2 > len(names))):
            kind = "style" if folder == STYLES else "client"
            count = f"All {len(names)}" if len(gone) == len(names) else f"{len(gone)} of the {len(names)}"
            return f"{count} {kind} files that the catalogue was made from are no longer in {folder}/."
    return ""


def refuse_removal(old: Manifest, files: Files, output: Path) -> None:
    """Raise Refused rather than remove the pages of most styles or clients."""
    if told := vanished(old.held, files):
        raise Refused(
            f"{told} The catalogue in “{output}” is left as it is. If a drive or a shared folder is missing, connect "
            "it and build again; if they are meant to be gone, confirm it with “catalogue build --allow-removal”."
        )
