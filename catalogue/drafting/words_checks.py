"""Lines that say what must hold: checks, finished measurements, and the seams that will be walked."""

from __future__ import annotations

from catalogue.drafting.conditions import holds
from catalogue.drafting.desk import Desk, SeamWanted
from catalogue.drafting.evaluate import length, line_word, plain_number
from catalogue.drafting.model import Check, Finished, Seam
from catalogue.drafting.words_pieces import edge_of, piece_and_part
from catalogue.language.tree import Node
from catalogue.language.wording import in_words
from catalogue.pattern.seams import TOLERANCE, walk
from catalogue.people import lookup


@line_word("check")
def check(node: Node, desk: Desk) -> None:
    """`check length of cap is at least armhole, "The cap must not be smaller than the armhole"`"""
    verdict = holds(node.part(0), desk)
    words = node.parts[1].text.strip('"“”') if node.parts[1] else verdict.text
    desk.checks.append(Check(words[:1].upper() + words[1:], verdict.ok, verdict.detail, node.place))


@line_word("finished")
def finished(node: Node, desk: Desk) -> None:
    """`finished waist girth = 2 * length of front.waist, ease 1 cm to 3 cm`"""
    name = " ".join(node.part(0).text.split())
    garment = length(node.part(1), desk)
    clauses = {c.word: c for c in node.parts[2:] if c is not None}
    body: float | None = None
    if "finish_on" in clauses:
        body = length(clauses["finish_on"].part(0), desk)
    else:
        measurement = lookup(name)
        if measurement is not None:
            body = desk.measurements.get(measurement.key)
            if body is None and clauses:
                raise desk.trouble(
                    "missing-measurement", f"The client file has no {measurement.name}.", node.place
                )
    ok, detail = True, ""
    if clauses.keys() - {"finish_on"} and body is None:
        raise desk.trouble(
            "no-body-figure",
            f"“{name}” is not a body measurement, so there is no ease to judge.",
            node.part(0).place,
            "Add what it is compared with: , body bust_girth",
        )
    if body is not None:
        ease = garment - body
        if "finish_ease_least" in clauses:
            least = length(clauses["finish_ease_least"].part(0), desk)
            ok = ease >= least - 0.5
            detail = f"ease {desk.show_length(ease)}; expected at least {desk.show_length(least)}"
        elif "finish_ease_range" in clauses:
            least, most = (length(clauses["finish_ease_range"].part(i), desk) for i in (0, 1))
            ok = least - 0.5 <= ease <= most + 0.5
            detail = f"ease {desk.show_length(ease)}; expected {desk.show_length(least)} to {desk.show_length(most)}"
        else:
            detail = f"ease {desk.show_length(ease)}"
    desk.finished.append(Finished(name, garment, body, ok, detail))


@line_word("sew")
def sew(node: Node, desk: Desk) -> None:
    """`sew sleeve.cap to front.armhole and back.armhole, ease 1 cm to 4 cm`: walked when the draft is done."""
    sides: list[tuple[str, ...]] = []
    for side in node.all("seam_side"):
        names = []
        for part in side.parts:
            assert part is not None
            found, edge = piece_and_part(part, desk)
            edge_of(found, edge, part, desk)
            names.append(part.text)
        sides.append(tuple(names))
    clauses = {c.word: c for c in node.parts if c is not None and c.word.startswith("sew_")}
    within = length(clauses["sew_within"].part(0), desk) if "sew_within" in clauses else TOLERANCE
    least = most = 0.0
    gathered = "sew_gather" in clauses
    if gathered:
        clause = clauses["sew_gather"]
        least, most = 1.0, 6.0
        if clause.parts[0] is not None:
            least, most = plain_number(clause.part(0), desk), plain_number(clause.part(1), desk)
    elif "sew_ease_range" in clauses:
        least, most = (length(clauses["sew_ease_range"].part(i), desk) for i in (0, 1))
    elif "sew_ease" in clauses:
        least = most = length(clauses["sew_ease"].part(0), desk)
    if least > most:
        raise desk.trouble("range", "The range must run from the smaller to the larger.", node.place)
    desk.seams_wanted.append(SeamWanted(sides[0], sides[1], least, most, within, node.place, gathered))


def walk_seams(desk: Desk) -> None:
    """Walk every seam that was asked for, on the pieces as they are now."""
    for wanted in desk.seams_wanted:
        first, second = (" and ".join(in_words(n) for n in side) for side in (wanted.first, wanted.second))
        try:
            walked = walk(desk.pieces, wanted.first, wanted.second)
        except KeyError as error:
            desk.findings.extend(
                desk.trouble(
                    "seam-gone",
                    f"The seam {first} to {second} can't be walked: {error.args[0]} is not there any more.",
                    wanted.place,
                    "Say it after the last line that cuts or joins these pieces.",
                ).findings
            )
            continue
        a, b = walked.first_length, walked.second_length
        lengths = f"{desk.show_length(a)} and {desk.show_length(b)}"
        if wanted.gathered:
            ratio = a / b if b else float("inf")
            ok = wanted.least - 0.01 <= ratio <= wanted.most + 0.01
            detail = f"{lengths}, gathered {ratio:.2f} times; expected {wanted.least:g} to {wanted.most:g}"
        else:
            ok = wanted.least - wanted.within <= walked.ease <= wanted.most + wanted.within
            detail = f"{lengths}, ease {desk.show_length(walked.ease)}"
            if wanted.least == wanted.most == 0:
                detail = lengths if ok else f"{lengths}: {desk.show_length(abs(walked.ease))} apart"
            elif not ok:
                detail += f"; expected {desk.show_length(wanted.least)} to {desk.show_length(wanted.most)}"
        names = (" and ".join(wanted.first), " and ".join(wanted.second))
        desk.seams.append(Seam(*names, a, b, walked.ease, ok, detail, wanted.place))
