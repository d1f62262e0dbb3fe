"""What is said of folds that can't be so, or were forgotten, once the pieces are as they will be cut."""

from __future__ import annotations

from catalogue.drafting.desk import Desk
from catalogue.findings import Place
from catalogue.geometry import Path
from catalogue.pattern import Piece
from catalogue.pattern.fold_checks import wrong_at_folds


def tell_folds(piece: Piece, cut_line: Path, place: Place, desk: Desk) -> None:
    """A warning for each fold of the piece that is not straight, or has paper or a cutting line beyond it."""
    for wrong in wrong_at_folds(piece, cut_line):
        by, on = desk.show_length(wrong.mm), f"{piece.name}.{wrong.fold}"
        match wrong.kind:
            case "bent":
                message = f"The fold “{wrong.fold}” of “{piece.title}” is not straight: it strays by {by}"
                hint = (
                    f"Cloth folds only along a straight line. Write: redraw {on} straight. Or leave out fold."
                )
            case "paper":
                message = (
                    f"The edge “{wrong.edge}” of “{piece.title}” runs {by} beyond the fold “{wrong.fold}”"
                )
                hint = (
                    "Let it end at the fold, or leave out fold and cut the piece whole. Where the fold ends there, "
                    f"say from where to where: {wrong.fold}: A to B to C, fold from A to B."
                )
            case _:
                message = (
                    f"The cutting line of “{piece.title}” runs {by} beyond the fold “{wrong.fold}”, where nothing can "
                    "be cut"
                )
                hint = f"Give the edge beside it no allowance: allow 1.5 cm, {piece.name}.{wrong.edge} 0 cm."
        desk.messages.warn("beyond-fold", f"{message}.", place, hint)


def tell_missing_folds(desk: Desk) -> None:
    """A warning for each piece that has a fold and is not cut on it, or is cut on a fold that it does not have.

    That a piece drafted to a fold is cut on it, and has no allowance there, is common practice, no source.
    """
    lost = {
        taken.name: taking.place
        for taking in desk.blocks.takings
        for name, taken in taking.pieces.items()
        if taking.block.pieces[name].cut.on_fold and not taken.cut.on_fold
    }
    for piece in desk.table.pieces.values():
        fold = next((edge.name for edge in piece.edges if edge.fold), "")
        if bool(fold) == piece.cut.on_fold:
            continue
        place = lost.get(piece.name) or desk.table.first_put[piece.name]
        count = piece.cut.count
        if not fold:
            desk.messages.warn(
                "no-fold",
                f"“{piece.title}” is cut {count} on the fold, but none of its edges is a fold.",
                place,
                f"Say which edge lies on the fold, as in {piece.edges[0].name}: A to B, fold; or write cut {count}.",
            )
        elif piece.name in lost:
            desk.messages.warn(
                "fold-lost",
                f"“{piece.title}” is half of what the block cuts on the fold “{fold}”; “cut {count}” "
                "cuts the half alone, without an allowance there.",
                place,
                f"Write cut {count} on fold; or, for a whole piece: unfold {piece.name} on {fold}.",
            )
        else:
            desk.messages.warn(
                "fold-lost",
                f"“{piece.title}” has the fold “{fold}”, but “cut {count}” is not on it: the half alone is cut, "
                "without an allowance there.",
                place,
                f"Write cut {count} on fold; or leave out fold at {piece.name}.{fold}, to cut it with a seam there.",
            )
