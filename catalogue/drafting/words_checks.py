"""Lines that say what must hold: checks, and the seams that will be walked."""

from __future__ import annotations

from dataclasses import replace

from catalogue.drafting.asked import PartAsked, SeamAsked
from catalogue.drafting.conditions import holds
from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import degrees, length, plain_number
from catalogue.drafting.messages import Broken
from catalogue.drafting.model import Check, Seam
from catalogue.drafting.registry import line_word
from catalogue.drafting.words_parts_sewn import cut_at_parts, part_of_edge
from catalogue.drafting.words_pieces import edge_of, piece_and_part
from catalogue.findings import Trouble, did_you_mean
from catalogue.language.tree import Node
from catalogue.language.wording import in_words
from catalogue.lengths import show_angle
from catalogue.pattern import halves
from catalogue.pattern.making import PieceError
from catalogue.pattern.seamline import laid
from catalogue.pattern.seams import SMOOTH, TOLERANCE, Allowed, Bend, Walked, walk


@line_word("check")
def check(node: Node, desk: Desk) -> None:
    """`check length of cap is at least armhole, "The cap must not be smaller than the armhole"`"""
    told = checked(node, desk)
    desk.trace.checks.append(told)
    desk.asked.checks.append((node, told))


def checked(node: Node, desk: Desk) -> Check:
    """What the check of a line comes to."""
    verdict = holds(node.condition, desk)
    words = node.words.text.strip('"“”') if node.words else verdict.text
    return Check(words[:1].upper() + words[1:], verdict.ok, verdict.detail, node.place)


@line_word("sew")
def sew(node: Node, desk: Desk) -> None:
    """`sew sleeve.cap to front.armhole and back.armhole, ease 1 cm to 4 cm`: walked when the draft is done."""
    sides: list[tuple[str, ...]] = []
    whole: set[str] = set()
    parts: list[PartAsked] = []
    for side in (node.first, node.second):
        names: list[str] = []
        for given in side.edges:
            part = given if given.word == "DOTTED" else given.edge
            found, edge = piece_and_part(part, desk)
            edge_of(found, edge, part, desk)
            if part.text in names or any(part.text in other for other in sides):
                raise desk.trouble(
                    "sewn-to-itself",
                    f"“{part.text}” is in this seam twice.",
                    part.place,
                    f"To sew the left one to the right write: sew {part.text} left to right"
                    if found.cut.mirrored
                    else "An edge is sewn to another one; give each edge once.",
                )
            if given.word == "both_halves":
                if halves.fold_beside(found, edge) is None:
                    raise desk.trouble(
                        "no-fold",
                        f"“{part.text}” does not end on a fold, so it has no other half.",
                        given.place,
                        f"Write {part.text} alone.",
                    )
                whole.add(part.text)
            elif given.word != "DOTTED":
                parts.append(part_of_edge(given, desk))
            names.append(part.text)
        sides.append(tuple(names))
    clauses = {c.word: c for c in node.clauses}
    within = length(clauses["sew_within"].amount, desk) if "sew_within" in clauses else TOLERANCE
    least = most = 0.0
    gathered = "sew_gather" in clauses
    if gathered:
        clause = clauses["sew_gather"]
        least, most = 1.0, 6.0
        if clause.least is not None:
            least, most = plain_number(clause.least, desk), plain_number(clause.most, desk)
    elif "sew_ease_range" in clauses:
        clause = clauses["sew_ease_range"]
        least, most = length(clause.least, desk), length(clause.most, desk)
    elif "sew_ease" in clauses:
        least = most = length(clauses["sew_ease"].amount, desk)
    if least > most:
        raise desk.trouble("range", "Put the smaller end of the range first.", node.place)
    smooth: float | None = None
    if "sew_smooth" in clauses:
        asked = clauses["sew_smooth"].amount
        smooth = SMOOTH if asked is None else degrees(asked, desk)
    start = None
    if "sew_start" in clauses:
        first, second = clauses["sew_start"].edge, clauses["sew_start"].other
        start = (first.text, (second or first).text)
        _check_start(sides, start, (first, second or first), desk)
    desk.asked.seams.append(
        SeamAsked(
            sides[0],
            sides[1],
            least,
            most,
            within,
            node.place,
            gathered,
            smooth=smooth,
            start=start,
            whole=frozenset(whole),
            parts=tuple(parts),
        )
    )


def _check_start(
    sides: list[tuple[str, ...]], start: tuple[str, str], nodes: tuple[Node, Node], desk: Desk
) -> None:
    """Both sides of a seam must have an end at the edge that the walk begins at."""
    for names, beside, node in zip(sides, start, nodes, strict=True):
        side = laid(desk.table.pieces, names, ())
        ends = [side.corner(at_end)[1].name for at_end in (False, True)]
        if beside not in ends:
            raise desk.trouble(
                "no-such-end",
                f"No end of “{' and '.join(names)}” lies at an edge “{beside}”.",
                node.place,
                did_you_mean(beside, ends) or f"Its ends lie at {ends[0]} and {ends[1]}.",
            )


def name_seams(desk: Desk) -> None:
    """Keep every seam that was asked for, between edges that are there, without walking it: for drawings."""
    edges = {f"{piece.name}.{edge.name}" for piece in desk.table.pieces.values() for edge in piece.edges}
    for wanted in desk.asked.seams:
        if edges.issuperset((*wanted.first, *wanted.second)):
            first, second = " and ".join(wanted.first), " and ".join(wanted.second)
            named = Seam(first, second, 0.0, 0.0, 0.0, True, "not walked", wanted.place, block=wanted.block)
            desk.trace.seams.append(named)


def walk_seams(desk: Desk) -> None:
    """Walk every seam that was asked for, on the pieces as they are now."""
    sewn = [(w.first, w.second) for w in desk.asked.seams]
    for wanted in desk.asked.seams:
        allowed = Allowed(wanted.least, wanted.most, wanted.within)
        if wanted.gathered:
            allowed = Allowed(0.0, 0.0, wanted.within, gathered=True)
        try:
            walked, told = _walked(wanted, sewn, allowed, desk)
        except Broken:
            continue
        except Trouble as trouble:
            desk.messages.findings.extend(trouble.findings)
            continue
        except PieceError as error:
            if wanted.block:
                continue  # It was declared for the block's own pieces.
            desk.messages.findings.extend(
                desk.trouble(
                    "cannot-be-paper",
                    f"{error.message[0].upper()}{error.message[1:]}.",
                    wanted.place,
                    error.hint,
                ).findings
            )
            continue
        except KeyError as error:
            first, second = (
                " and ".join(in_words(n) for n in side) for side in (wanted.first, wanted.second)
            )
            desk.messages.findings.extend(
                desk.trouble(
                    "seam-gone",
                    f"The seam {first} to {second} can't be walked: {error.args[0]} is no longer there.",
                    wanted.place,
                    "Move this line below the last one that cuts or joins these pieces.",
                ).findings
            )
            continue
        ok, detail = _lengths_hold(wanted, walked, desk)
        remarks = [
            detail,
            *told,
            *_halves_remarks(wanted, ok, walked, desk),
            *_notch_remarks(wanted, walked, desk),
        ]
        ok = ok and all(m.ok for m in walked.matches) and all(s.ok for s in walked.sections)
        for bend in walked.bends:
            if wanted.smooth is not None and abs(bend.degrees) > wanted.smooth + 1e-6:
                ok = False
                remarks.append(
                    f"{_line_of(bend)} bends by {show_angle(abs(bend.degrees))} across the seam, expected at most "
                    f"{show_angle(wanted.smooth)}"
                )
            elif wanted.smooth is None and bend.kinked:
                desk.messages.warn(
                    "seam-bend",
                    f"{_line_of(bend).capitalize()} bends by {show_angle(abs(bend.degrees))} where the seam "
                    f"{in_words(wanted.first[0])} to {in_words(wanted.second[0])} is closed.",
                    wanted.place,
                    _how_to_smooth(bend, wanted),
                )
        desk.trace.seams.append(
            Seam(
                " and ".join(wanted.first),
                " and ".join(wanted.second),
                walked.first_length,
                walked.second_length,
                walked.ease,
                ok,
                "; ".join(remarks),
                wanted.place,
                walked.matches,
                walked.sections,
                walked.bends,
                wanted.block,
            )
        )


def _walked(
    wanted: SeamAsked, sewn: list[tuple[tuple[str, ...], tuple[str, ...]]], allowed: Allowed, desk: Desk
) -> tuple[Walked, list[str]]:
    """A seam walked, and what there is to say of what was sewn: parts of edges, a piece and its mirror image.

    Raises KeyError where an edge isn't there any more, PieceError, and Trouble where a part can't be found.
    """
    if wanted.left_to_right:
        return halves.left_to_right(desk.table.pieces, wanted.first, sewn, allowed), ["left to right"]
    pieces = halves.opened(desk.table.pieces, wanted.whole)
    if wanted.parts:
        cut = cut_at_parts(wanted, pieces, desk)
        walked = walk(cut.pieces, wanted.first, wanted.second, sewn, allowed, cut.start)
        beside = {f"{p.edge} {side}" for p in wanted.parts for side in ("before", "after")}
        bends = tuple(b for b in walked.bends if b.first not in beside and b.second not in beside)
        return replace(walked, bends=bends), list(cut.words)
    walked = walk(pieces, wanted.first, wanted.second, sewn, allowed, wanted.start)
    return halves.on_the_half(walked, desk.table.pieces, wanted.whole), []


def _how_to_smooth(bend: Bend, wanted: SeamAsked) -> str:
    how = f"Write: true {bend.first} and {bend.second} across {wanted.first[0]} and {wanted.second[0]}. "
    if wanted.left_to_right:
        how = f"Write: square {bend.first} to {wanted.first[0].partition('.')[2]}. "
    return f"{how}Or say how much it may bend: smooth within 30 degrees."


def _line_of(bend: Bend) -> str:
    first, second = bend.first.partition(".")[2], bend.second.partition(".")[2]
    return f"the {in_words(first)}" if first == second else f"{in_words(first)} and {in_words(second)}"


def _lengths_hold(wanted: SeamAsked, walked: Walked, desk: Desk) -> tuple[bool, str]:
    a, b = walked.first_length, walked.second_length
    lengths = f"{desk.show_length(a)} and {desk.show_length(b)}"
    if wanted.gathered:
        ratio = a / b if b else float("inf")
        ok = wanted.least - 0.01 <= ratio <= wanted.most + 0.01
        return ok, f"{lengths}, gathered {ratio:.2f} times; expected {wanted.least:g} to {wanted.most:g}"
    ok = wanted.least - wanted.within <= walked.ease <= wanted.most + wanted.within
    if wanted.least == wanted.most == 0:
        return ok, lengths if ok else f"{lengths}: {desk.show_length(abs(walked.ease))} apart"
    detail = f"{lengths}, ease {desk.show_length(walked.ease)}"
    if not ok:
        detail += f"; expected {desk.show_length(wanted.least)} to {desk.show_length(wanted.most)}"
    return ok, detail


def _halves_remarks(wanted: SeamAsked, ok: bool, walked: Walked, desk: Desk) -> list[str]:
    """Where a half on the fold is as long as half of what it is sewn to: what to write."""
    lengths = walked.first_length, walked.second_length
    if ok or abs(2 * min(lengths) - max(lengths)) > max(lengths) * 0.1:
        return []
    names = wanted.first if lengths[0] < lengths[1] else wanted.second
    on_fold = [n for n in names if halves.fold_beside(desk.table.pieces[n.split(".")[0]], n.split(".")[1])]
    if not on_fold or wanted.whole:
        return []
    return [f"{in_words(on_fold[0])} is half of an edge on the fold: write both halves of {on_fold[0]}"]


def _notch_remarks(wanted: SeamAsked, walked: Walked, desk: Desk) -> list[str]:
    """What there is to say of the notches: where the ease lies, and those that do not meet or have no partner."""
    remarks = []
    eased = wanted.gathered or wanted.least or wanted.most
    if eased and len(walked.sections) > 1 and any(abs(s.ease) >= 0.5 for s in walked.sections):
        shares = ", ".join(f"{desk.show_length(s.ease)} to the {in_words(s.end)}" for s in walked.sections)
        remarks.append(f"ease by sections: {shares}")
    for section in walked.sections:
        if eased and not section.ok:
            remarks.append(
                f"from the {in_words(section.start)} to the {in_words(section.end)}: "
                f"{desk.show_length(section.first_length)} and {desk.show_length(section.second_length)}"
            )
    for match in walked.matches:
        if match.miss is None:
            sign = match.first or match.second
            assert sign is not None
            remarks.append(f"a notch {desk.show_length(sign.at)} along {in_words(sign.edge)} has no partner")
        elif not match.ok and not eased:
            assert match.first is not None and match.second is not None
            remarks.append(
                f"notches {desk.show_length(match.first.at)} and {desk.show_length(match.second.at)} along miss "
                f"each other by {desk.show_length(abs(match.miss))}"
            )
    return remarks
