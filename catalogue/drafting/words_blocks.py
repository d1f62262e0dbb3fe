"""The word that takes pieces from a block, and what a block asks for once the style has changed its pieces."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from itertools import zip_longest

from catalogue.drafting.asked import CheckAsked, SeamAsked
from catalogue.drafting.blocks import BlockDraft, Settled, Taking
from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import evaluate
from catalogue.drafting.finished_wanted import FinishedWanted
from catalogue.drafting.messages import Broken
from catalogue.drafting.model import Check
from catalogue.drafting.operation_sentences import operation_sentence
from catalogue.drafting.registry import line_word
from catalogue.drafting.words_checks import checked
from catalogue.drafting.words_pieces import MOST_PIECES, cut_from, unquoted
from catalogue.findings import Trouble, did_you_mean
from catalogue.language.tree import Node
from catalogue.language.values import Word
from catalogue.pattern import Piece


@line_word("take")
def take(node: Node, desk: Desk) -> None:
    """`take front as yoke "Front yoke", cut 2 of lining, back from bodice with neck_seam = 40 cm`"""
    wanted = _wanted(node.items, desk)
    new_names = [(piece.renamed or piece.name).text for piece, _ in wanted]
    try:
        block = _block(node, desk)
        taken: dict[str, Piece] = {}
        for piece, cuts in wanted:
            taken[piece.name.text] = _take(piece, cuts, block, node, desk)
    except Exception:
        desk.table.broken.update(name for name in new_names if name not in desk.table.pieces)
        raise
    desk.blocks.takings.append(Taking(block, taken, node.place))
    desk.table.paper = desk.table.paper_of[new_names[0]]
    made = [desk.table.pieces[name] for name in new_names]
    desk.trace.operations.append(operation_sentence(node, desk, made))


def _wanted(items: Sequence[Node], desk: Desk) -> list[tuple[Node, list[Node]]]:
    """Each piece of the line with the cut clauses that stand behind it."""
    found: list[tuple[Node, list[Node]]] = []
    for item in items:
        if item.word == "take_piece":
            found.append((item, []))
        elif found:
            found[-1][1].append(item)
        else:
            raise desk.trouble("no-piece", "Say first which piece is cut so.", item.place)
    return found


def _block(node: Node, desk: Desk) -> BlockDraft:
    """The block of the line, given its values and drafted."""
    name = node.block.text
    if name not in desk.blocks.on_hand:
        known = list(desk.blocks.on_hand)
        raise desk.trouble(
            "unknown-block",
            f"The style is not cut from a block “{name}”.",
            node.block.place,
            did_you_mean(name, known)
            or (
                f"Its blocks: {', '.join(known)}."
                if known
                else f"Name it at the top of the file, under cut from: {name}: {name.replace('_', '-')}"
            ),
        )
    if node.given is not None:
        desk.blocks.give(name, _given(node.given.values, name, desk), node.given)
    return desk.blocks.block(name, node.block, desk.trace.step)


def _given(nodes: Sequence[Node], name: str, desk: Desk) -> dict[str, Settled]:
    """The values of `with neck_seam = 40 cm and stand = 3 cm`: all that the block receives, each once."""
    style = desk.blocks.on_hand[name].style
    receives = {value.key: value for value in style.receives}
    known = list(receives)
    found: dict[str, Settled] = {}
    for node in nodes:
        key = node.name.text
        if key not in known:
            raise desk.trouble(
                "unknown-name",
                f"“{style.title}” receives no “{key}”.",
                node.place,
                did_you_mean(key, known)
                or (f"It receives: {', '.join(known)}." if known else "It receives nothing: leave out with."),
            )
        if key in found:
            raise desk.trouble("given-twice", f"“{key}” is given twice.", node.place)
        is_word = receives[key].options and node.value.word == "name"
        if is_word and node.value.text not in desk.names.options:
            found[key] = Settled(Word(node.value.text), node.value.place)
        else:
            found[key] = Settled(evaluate(node.value, desk), node.value.place)
    lacking = [key for key in known if key not in found]
    if lacking:
        raise desk.trouble(
            "not-given",
            f"“{style.title}” must be given {' and '.join(lacking)} too.",
            nodes[-1].place,
            f"Add: and {lacking[0]} = …",
        )
    return found


def _take(node: Node, cuts: Sequence[Node], block: BlockDraft, line: Node, desk: Desk) -> Piece:
    """Lay one piece of the block on the table."""
    name, new = node.name.text, node.renamed or node.name
    if name not in block.pieces:
        if name in block.broken_pieces or any(f.is_error for f in block.draft.findings):
            raise Broken(name)
        known = list(block.pieces)
        raise desk.trouble(
            "unknown-piece",
            f"The block “{block.style.title}” has no piece “{name}”.",
            node.name.place,
            did_you_mean(name, known)
            or (f"Its pieces: {', '.join(known)}." if known else "It has no pieces at all."),
        )
    if len(desk.table.pieces) >= MOST_PIECES:
        raise desk.trouble("too-many-pieces", f"A style has at most {MOST_PIECES} pieces.", node.place)
    desk.names.refuse_taken(new.text, new)
    piece = block.pieces[name]
    for edge in piece.edges:
        if edge.allowance is not None and not edge.fold:
            desk.asked.block_allowances[f"{new.text}.{edge.name}"] = edge.allowance
    edges = tuple(replace(edge, allowance=None) for edge in piece.edges)
    made = piece.with_changes(
        name=new.text,
        title=unquoted(node.title) or piece.title,
        cut=cut_from(cuts, desk) if cuts else piece.cut,
        edges=edges,
    )
    used = {*desk.table.paper_of.values(), *desk.names.paper_of.values()}
    desk.table.put(made, desk.blocks.sheet(line.block.text, block, name, used))
    desk.table.cut_up.discard(new.text)
    if name in block.empty_darts:
        desk.table.empty_darts[new.text] = block.empty_darts[name]
    return made


# --- what the blocks ask for ----------------------------------------------------------------------------------


def ask_for_blocks(desk: Desk) -> None:
    """Ask for the seams, checks and finished measurements of the blocks that still apply to what was taken.

    A seam applies while both its edges are there, on pieces that were not cut up, and the style sews neither of them
    otherwise; a check while the edges that it speaks of are there; a finished measurement while the piece it begins on
    is there and the style asks for none of that name.
    """
    sewn = {name for seam in desk.asked.seams for name in (*seam.first, *seam.second)}
    finished = {name for wanted in desk.asked.finished for name in _names_of(wanted)}
    for block, names, pieces in _sets(desk.blocks.takings):
        title = block.style.title
        for seam in block.asked.seams:
            made = _seam(seam, names, title)
            if (
                made
                and not sewn & {*made.first, *made.second}
                and _all_there((*made.first, *made.second), desk)
            ):
                desk.asked.seams.append(made)
        for wanted in block.asked.finished:
            changed = any(_is_changed(names[old], piece, desk) for old, piece in pieces.items())
            asked = _finished(wanted, pieces, title, changed)
            if asked and not finished & {*_names_of(wanted)} and _is_there(asked, desk):
                desk.asked.finished.append(asked)
        desk.asked.block_checks += (
            replace(each, names={old: names[now] for old, now in each.names.items() if now in names})
            for each in block.checks
        )
    for each in desk.asked.block_checks:
        _check_again(each, desk)


def _sets(takings: Sequence[Taking]) -> list[tuple[BlockDraft, dict[str, str], dict[str, Piece]]]:
    """What was taken from each block, in whole sets: each block with the pieces' names now, and as they were taken.

    A piece that was taken twice is in two sets, the second with the second of its partners, if there are such.
    """
    drafts: dict[int, tuple[BlockDraft, dict[str, list[Piece]]]] = {}
    for taking in takings:
        _, by_name = drafts.setdefault(id(taking.block), (taking.block, {}))
        for name, piece in taking.pieces.items():
            by_name.setdefault(name, []).append(piece)
    sets = []
    for block, by_name in drafts.values():
        for row in zip_longest(*by_name.values()):
            pieces = {name: piece for name, piece in zip(by_name, row, strict=True) if piece is not None}
            sets.append((block, {name: piece.name for name, piece in pieces.items()}, pieces))
    return sets


def _moved(part: str, names: Mapping[str, str]) -> str:
    """`front.side` by the name that the piece has now; "" where it was not taken."""
    piece, _, edge = part.partition(".")
    return f"{names[piece]}.{edge}" if piece in names else ""


def _all_there(parts: Sequence[str], desk: Desk) -> bool:
    """Whether edges and points of pieces are still there, on pieces that were not cut up."""
    for part in parts:
        name, _, edge = part.partition(".")
        piece = desk.table.pieces.get(name)
        if piece is None or name in desk.table.cut_up:
            return False
        if edge not in piece.points and not any(e.name == edge for e in piece.edges):
            return False
    return True


def _is_changed(name: str, taken: Piece, desk: Desk) -> bool:
    piece = desk.table.pieces.get(name)
    return piece is None or [e.path for e in piece.edges] != [e.path for e in taken.edges]


def _seam(seam: SeamAsked, names: Mapping[str, str], title: str) -> SeamAsked | None:
    if seam.parts:
        return None  # Where the parts end is said with names of the block.
    first, second = (tuple(_moved(part, names) for part in side) for side in (seam.first, seam.second))
    if not all((*first, *second)):
        return None
    whole = frozenset(_moved(part, names) for part in seam.whole)
    return replace(seam, first=first, second=second, whole=whole, block=seam.block or title)


def _names_of(wanted: FinishedWanted) -> tuple[str, ...]:
    measured = () if wanted.measurement is None else (wanted.measurement.key,)
    return ("_".join(wanted.name.casefold().split()), *measured)


def _finished(
    wanted: FinishedWanted, pieces: Mapping[str, Piece], title: str, changed: bool
) -> FinishedWanted | None:
    """A finished measurement of the block for what was taken.

    On pieces that were changed, what the block's formula says and the most ease it has are no longer meant; that the
    garment must go round the body still is.
    """
    names = {old: piece.name for old, piece in pieces.items()}
    if not (wanted.levels or wanted.stretches) or any(level.line is not None for level in wanted.levels):
        return None
    if any(stretch.piece not in names for stretch in wanted.stretches):
        return None
    levels = []
    for level in wanted.levels:
        # A point alone is looked for on the pieces that were taken.
        piece = level.piece or next((old for old in pieces if level.text in pieces[old].points), "")
        if piece not in names:
            return None
        point = level.text.rpartition(".")[2]
        levels.append(replace(level, piece=names[piece], text=f"{names[piece]}.{point}"))
    return replace(
        wanted,
        levels=tuple(levels),
        stretches=tuple(replace(s, piece=names[s.piece]) for s in wanted.stretches),
        claimed=None if changed else wanted.claimed,
        most=None if changed else wanted.most,
        block=wanted.block or title,
    )


def _is_there(wanted: FinishedWanted, desk: Desk) -> bool:
    if wanted.stretches and wanted.claimed is None and wanted.body is None:
        return False  # The pieces were changed, and there is nothing left to compare the length with.
    edges = [f"{s.piece}.{s.edge}" for s in wanted.stretches]
    edges += [f"{level.piece}.{level.edge}" for level in wanted.levels if level.edge]
    points = [level.text for level in wanted.levels if level.at is None and not level.edge]
    pieces = {level.piece for level in wanted.levels}
    return (
        _all_there(edges, desk)
        and _all_there([point for point in points if "." in point], desk)
        and all(piece in desk.table.pieces and piece not in desk.table.cut_up for piece in pieces)
    )


def checks_to_take(desk: Desk, title: str) -> tuple[CheckAsked, ...]:
    """The checks of a drafted block, for styles cut from it: its own, and those of its blocks that still applied."""
    names = {name: name for name in desk.table.pieces}
    own = [
        CheckAsked(_parts(line, desk), names, _again(line, desk, title), replace(told, block=title))
        for line, told in desk.asked.checks
    ]
    return (*own, *desk.asked.block_checks)


def _parts(line: Node, desk: Desk) -> frozenset[str]:
    dotted = (node.text for node in line.walk() if node.word == "DOTTED")
    return frozenset(text for text in dotted if text.partition(".")[0] not in desk.blocks.on_hand)


def _again(line: Node, desk: Desk, title: str) -> Callable[[Mapping[str, Piece]], Check | None]:
    def check(pieces: Mapping[str, Piece]) -> Check | None:
        other = desk.twin()
        other.table.pieces.update(pieces)
        try:
            return replace(checked(line, other), block=title)
        except (Trouble, Broken):
            return None

    return check


def _check_again(asked: CheckAsked, desk: Desk) -> None:
    """Work a check of a block out on the pieces as they are now; one that no longer applies is left out."""
    if not asked.parts:
        if asked.verdict not in desk.trace.checks:
            desk.trace.checks.append(asked.verdict)
        return
    parts = [_moved(part, asked.names) for part in asked.parts]
    if not all(parts) or not _all_there(parts, desk):
        return
    pieces = {old: desk.table.pieces[now] for old, now in asked.names.items() if now in desk.table.pieces}
    verdict = asked.again(pieces)
    if verdict is not None:
        desk.trace.checks.append(verdict)
