"""The edges of a piece as its outline says them: runs along lines, parts on the fold, allowances of their own."""

from __future__ import annotations

from dataclasses import replace

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import length, path, point
from catalogue.drafting.outline_told import OutlineRun, tell_runs
from catalogue.drafting.words_lines import between
from catalogue.geometry import Path
from catalogue.language.tree import Node
from catalogue.pattern import Edge
from catalogue.pattern.making import with_ends
from catalogue.pattern.measure import ON_EDGE


def edges_of_line(node: Node, desk: Desk) -> list[Edge]:
    """`side: hem to side_hip along side to side_waist, allow 2 cm`; three at most where part of it is a fold."""
    here_node = node.start
    here = point(here_node, desk)
    made: Path | None = None
    runs: list[OutlineRun] = []
    for run in node.way.each:
        there_node, whole = run.end, None
        there = point(there_node, desk)
        if run.line is None:
            if here.distance(there) < 1e-6:
                raise desk.trouble(
                    "same-point",
                    f"“{here_node.text}” and “{there_node.text}” are the same point, so "
                    "this edge has no length.",
                    there_node.place,
                )
            part = Path.line(here, there)
        else:
            whole = path(run.line, desk)
            part = with_ends(between(whole, here, there, here_node, there_node, desk), here, there)
        made = part if made is None else made.joined(part)
        runs.append(OutlineRun(here_node, there_node, run.line, whole, part))
        here, here_node = there, there_node
    assert made is not None
    tell_runs(node.name.text, runs, desk)
    allowed = node.clause("edge_allow")
    allowance = allowance_of(allowed.amount, desk) if allowed else None
    corners = " ".join(allowed.corners.text.split()) if allowed and allowed.corners else ""
    fold = node.clause("edge_fold")
    edge = Edge(node.name.text, made, fold is not None, allowance, corners)
    return [edge] if fold is None or fold.start is None else _partly_on_fold(edge, fold, desk)


def _partly_on_fold(edge: Edge, fold: Node, desk: Desk) -> list[Edge]:
    """An edge of which only a part lies on the fold: that part keeps its name, what is beside it is numbered.

    Where the rest runs on in line with the fold it is a slit, which has no allowance (`with_allowances`).
    """
    places = []
    for at in (fold.start, fold.end):
        s, off = edge.path.nearest(point(at, desk))
        if off > ON_EDGE:
            raise desk.trouble(
                "off-the-line",
                f"“{at.text}” is {desk.show_length(off)} away from the edge “{edge.name}”.",
                at.place,
                "The fold ends at two points of the edge.",
            )
        places.append(s)
    first, last = sorted(places)
    if last - first < ON_EDGE:
        raise desk.trouble("same-point", "The fold has no length.", fold.place)
    made: list[Edge] = []
    for s0, s1 in ((0.0, first), (first, last), (last, edge.path.length)):
        if s1 - s0 < ON_EDGE:
            continue
        part = edge.path.between(s0, s1)
        if (s0, s1) == (first, last):
            made.append(replace(edge, path=part))
            continue
        number = 2 + sum(not e.fold for e in made)
        made.append(Edge(f"{edge.name}_{number}", part, False, edge.allowance, edge.corners))
    return made


NARROWEST_SEAM, WIDEST_SEAM, WIDEST_HEM = 3.0, 50.0, 150.0
"""mm: outside these an allowance is asked about (common practice, no source)."""


def allowance_of(node: Node, desk: Desk, most: float = WIDEST_HEM) -> float:
    """The width of an allowance, mm; one that is too narrow to sew, or over `most`, is asked about."""
    amount = length(node, desk)
    if not 0 <= amount <= 200:
        raise desk.trouble(
            "odd-allowance",
            f"A seam allowance of {desk.show_length(amount)} is out of range; expected 0 to 20 cm.",
            node.place,
        )
    if amount and not NARROWEST_SEAM <= amount <= most:
        desk.messages.warn(
            "doubted-allowance",
            f"An allowance of {node.text} is unusual.",
            node.place,
            f"Is the unit right? Usual: {desk.show_length(NARROWEST_SEAM)} to {desk.show_length(most)}, or 0 cm "
            "for none.",
        )
    return amount
