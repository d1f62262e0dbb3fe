"""A seam that does not match is drawn with both its edges marked."""

import re
from dataclasses import replace

from catalogue.drafting.model import Draft, Seam
from catalogue.findings import Place
from catalogue.geometry import Path, Point
from catalogue.lengths import Unit, Units, show_length
from catalogue.pattern import Cut, Edge, Piece
from catalogue.site.pages import Site
from catalogue.site.seam_figure import seam_figure
from tests.site import sample


def show(mm: float) -> str:
    return show_length(mm, Units(Unit.CM))


def panel(name: str, height: float) -> Piece:
    corners = [Point(0, 0), Point(200, 0), Point(200, height), Point(0, height), Point(0, 0)]
    edges = tuple(
        Edge(edge, Path.polyline([a, b]))
        for edge, a, b in zip(("top", "side", "hem", "centre"), corners, corners[1:], strict=False)
    )
    return Piece(name, name.title(), edges, Cut())


def unmet() -> Draft:
    seam = Seam("front.side", "back.side", 300, 320, -20, False, "30 cm and 32 cm", Place(sample.FILE, 30))
    pieces = {"front": panel("front", 300), "back": panel("back", 320)}
    return replace(sample.draft(), pieces=pieces, seams=(seam,))


def test_both_edges_are_drawn_heavy_with_their_lengths_and_apart() -> None:
    draft = unmet()
    svg = str(seam_figure(draft, draft.seams[0], show, "s"))
    heavy = re.findall(r'class="unmet" d="M(\S+) \S+L(\S+) ', svg)
    assert len(heavy) == 2
    (first, _), (second, _) = [(float(a), float(b)) for a, b in heavy]
    assert abs(first - second) > 200  # side by side, not on each other
    assert ">side 30 cm</text>" in svg and ">side 32 cm</text>" in svg
    assert 'role="img"' in svg and "30 cm and 32 cm" in svg


def test_a_seam_of_unknown_pieces_is_not_drawn() -> None:
    draft = replace(unmet(), pieces={})
    assert seam_figure(draft, draft.seams[0], show, "s") == ""


def test_the_page_shows_it_in_the_step_that_asks_for_the_seam() -> None:
    draft = unmet()
    page = sample.page(Site(sample.settings(), [draft.style], [draft.client]), draft)
    # The last step's block stands before line 30.
    last = page.split(f'id="step-{len(draft.steps)}"')[1]
    assert last.count('class="unmet"') == 2
    assert f'href="#step-{len(draft.steps)}"' in page
    held = replace(draft, seams=tuple(replace(s, ok=True) for s in draft.seams))
    assert 'class="unmet"' not in sample.page(Site(sample.settings(), [draft.style], [draft.client]), held)
