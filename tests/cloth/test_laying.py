"""Lays of known cloths: single and folded, one-way, matched; each checked by shapely, which had no part in them."""

from __future__ import annotations

from itertools import combinations

import pytest
from shapely.geometry import Polygon, box

from catalogue.cloth.cloth_lay import ClothLay, repeats_of
from catalogue.cloth.cloths import Cloth
from catalogue.cloth.filling import fill, raster_for
from catalogue.cloth.forms import Form, form_of, forms_of
from catalogue.cloth.laying import lay_cloth, ways_for
from catalogue.cloth.matching import SewnEdges, matching_of
from catalogue.cloth.reading import read_cloths
from catalogue.cloth.strip import Stone
from catalogue.findings import Place
from catalogue.geometry import Point
from catalogue.pattern import Cut
from tests.cloth.test_lay import rectangle
from tests.demo import ROOT
from tests.drafting.people_and_styles import demo_client, demo_style, draft

CLOTHS = read_cloths(ROOT).by_slug
WITH_COLLAR = [("yoked-shirt", "nadim")]
PAIRS = [("straight-skirt", "ines"), *WITH_COLLAR]


def cloth(width: float = 1500, **said) -> Cloth:
    return Cloth("cloth", "cloth", Place(""), width, width, **said)


def form(name: str, width: float, height: float, count: int = 1, **said) -> Form:
    return Form(
        name, (Point(0, 0), Point(width, 0), Point(width, height), Point(0, height)), (), count, **said
    )


def laid(lay: ClothLay | None) -> ClothLay:
    assert lay is not None and lay.problems == ()
    return lay


@pytest.fixture(scope="module", params=PAIRS, ids=lambda pair: pair[0])
def garment(request):
    made = draft(demo_style(request.param[0]), demo_client(request.param[1]))
    pieces = [p for p in made.pieces.values() if p.cut.cloth == "main"]
    seams = [SewnEdges(s.first, s.second, s.matches) for s in made.seams]
    return forms_of(pieces, made.cut_lines), matching_of(pieces, seams)


@pytest.mark.parametrize(
    "slug", ["chalkpit-linen", "plumstone-velvet", "fennimore-plaid", "old-mill-handloom"]
)
def test_every_demo_cloth_can_be_laid_and_no_lay_is_wrong(garment, slug):
    """By shapely: every cut on the cloth, 3 mm apart, as often as it is cut."""
    forms, matching = garment
    for how in ways_for(CLOTHS[slug]):
        lay = laid(lay_cloth(CLOTHS[slug], "main", forms, how=how, matching=matching))
        shapes = [Polygon(cut.outline).buffer(0) for cut in lay.flat]
        left_out = {wide.name for wide in lay.too_wide}
        assert len(shapes) == sum(f.count for f in forms if f.name not in left_out)
        assert all(box(-0.1, -0.1, lay.width + 0.1, lay.length + 0.1).contains(s) for s in shapes)
        assert all(a.distance(b) >= 2.95 for a, b in combinations(shapes, 2))


def test_the_points_of_a_plaid_that_must_meet_do_so_within_a_millimetre(garment):
    forms, matching = garment
    plaid = CLOTHS["fennimore-plaid"]
    lay = laid(lay_cloth(plaid, "main", forms, matching=matching))
    assert lay.met and max(point.miss for point in lay.met) < 1.0
    _, along = repeats_of(plaid)
    assert along == pytest.approx(128 * 0.97)
    # Measured off the lay itself: the low end of front and back side seams, from the end of the cloth.
    for pair in matching.pairs:
        phases = []
        for name, at in ((pair.first, pair.first_at), (pair.second, pair.second_at)):
            top = min(p.y for f in forms if f.name == name for p in f.outline)
            phases += [min(p.y for p in cut.outline) + at.y - top for cut in lay.flat if cut.name == name]
        assert all(abs((p - phases[0] + along / 2) % along - along / 2) < 1.0 for p in phases)


def test_the_middles_lie_on_the_main_bar_of_a_stripe(garment):
    """On an even stripe, from the first bar: the fold of what is cut on the fold."""
    forms, matching = garment
    stripe = CLOTHS["harbour-stripe"]
    lay = laid(lay_cloth(stripe, "main", forms, matching=matching))
    across, _ = repeats_of(stripe)
    found = 0
    for each in forms:
        if each.half and each.name in matching.anchors:
            for cut in (c for c in lay.flat if c.name == each.name):
                xs = [p.x for p in cut.outline]
                middle = (min(xs) + max(xs)) / 2
                assert abs((middle + across / 2) % across - across / 2) < 1.0
                found += 1
    assert found


def test_pieces_on_the_fold_lie_on_the_fold_and_pairs_are_cut_double():
    front = rectangle("front", 250, 700, Cut(1, on_fold=True), fold=True)
    back = rectangle("back", 260, 700, Cut(2, mirrored=True))
    forms = [form_of(p, p.outline) for p in (front, back)]
    lay = laid(lay_cloth(cloth(), "main", forms, how="lengthwise"))
    [section] = lay.sections
    assert section.how == "lengthwise" and section.width == 750
    on_fold, double = section.cuts
    assert on_fold.on_fold and min(p.x for p in on_fold.outline) == pytest.approx(0, abs=0.01)
    assert double.layers == 2 and lay.length == pytest.approx(700, abs=10)
    front_cut, *backs = lay.flat
    assert Polygon(front_cut.outline).bounds[0::2] == pytest.approx((500, 1000), abs=0.1)
    middles = sorted(Polygon(cut.outline).centroid.x for cut in backs)
    assert sum(middles) == pytest.approx(1500, abs=0.1)  # One is the mirror image of the other over the fold.


def test_a_single_piece_follows_the_fold_on_one_layer():
    lay = laid(
        lay_cloth(
            cloth(), "main", [form("a", 400, 500, 2, mirrored=True), form("b", 900, 300)], how="lengthwise"
        )
    )
    assert [(s.how, len(s.cuts)) for s in lay.sections] == [("lengthwise", 1), ("single", 1)]
    assert lay.sections[1].start == pytest.approx(lay.sections[0].length + 3, abs=0.01)


def test_a_crosswise_fold_takes_pieces_too_wide_to_lie_side_by_side():
    lay = laid(lay_cloth(cloth(), "main", [form("a", 1200, 500, 2, mirrored=True)], how="crosswise"))
    [section] = lay.sections
    assert section.takes == pytest.approx(2 * section.length) == pytest.approx(lay.length)
    tops = sorted(min(p.y for p in cut.outline) for cut in lay.flat)
    assert tops[1] - tops[0] > 500


@pytest.mark.parametrize("said", [{"direction": "one way"}, {"direction": "nap up"}])
def test_a_crosswise_fold_is_refused_for_one_way_cloth(said):
    with pytest.raises(ValueError, match="laid one way"):
        lay_cloth(cloth(**said), "main", [form("a", 500, 500)], how="crosswise")


def test_a_patterned_cloth_is_laid_in_a_single_layer():
    assert ways_for(CLOTHS["fennimore-plaid"]) == ("single",)
    with pytest.raises(ValueError, match="single layer"):
        lay_cloth(CLOTHS["fennimore-plaid"], "main", [form("a", 500, 500)], how="lengthwise")


def test_on_cloth_with_a_nap_every_piece_lies_the_same_way_up():
    """Triangles that would fit into each other end for end, if they might be turned."""
    corners = (Point(0, 0), Point(300, 0), Point(150, 900))
    forms = [Form("gore", corners, (), 8)]
    napped = laid(lay_cloth(CLOTHS["plumstone-velvet"], "main", forms, how="single"))
    plain = laid(lay_cloth(cloth(1120), "main", forms, how="single"))
    assert plain.length < napped.length
    for cut in napped.flat:
        points = sorted(cut.outline, key=lambda p: p.y)
        assert points[2].y - points[1].y > 800  # The point is the lower end.


def test_a_piece_wider_than_the_cloth_is_left_out_and_named():
    lay = laid(lay_cloth(cloth(690), "main", [form("wide", 800, 400), form("slim", 600, 400)]))
    assert [(w.name, w.across, w.width) for w in lay.too_wide] == [("wide", 800, 690)]
    assert {cut.name for cut in lay.flat} == {"slim"}


def test_a_piece_as_wide_as_the_cloth_fits():
    assert laid(lay_cloth(cloth(690), "main", [form("whole", 690, 400)])).too_wide == ()


def test_a_grain_line_drawn_from_the_hem_up_turns_no_piece_over():
    piece = rectangle("a", 300, 800, Cut(1))
    assert piece.grain is not None
    other = piece.with_changes(grain=(piece.grain[1], piece.grain[0]))
    assert form_of(other, other.outline) == form_of(piece, piece.outline)


def test_the_cells_of_a_lay_divide_the_repeat_or_are_divided_by_it():
    raster = raster_for(5.0, 1500, 96.0, 3.0)
    assert raster.x * raster.by_x == pytest.approx(96) and raster.by_y == 1 and raster.y == 3.0
    assert raster_for(5.0, 1503).x == pytest.approx(1503 / 301)


def test_the_same_shapes_lie_the_same_every_time():
    stones = [Stone((Point(0, 0), Point(90 + n, 0), Point(40, 200 + n))) for n in range(12)]
    first = fill(stones, 700.0)
    assert first is not None and first == fill(stones, 700.0)


@pytest.fixture(scope="module")
def pinafore():
    made = draft(demo_style("childs-pinafore"), demo_client("wren"))
    pieces = [p for p in made.pieces.values() if p.cut.cloth == "main"]
    seams = [SewnEdges(s.first, s.second, s.matches) for s in made.seams]
    return made, forms_of(pieces, made.cut_lines), matching_of(pieces, seams)


@pytest.mark.parametrize("slug", ["fennimore-plaid", "harbour-stripe"])
def test_patch_pockets_lie_as_the_cloth_under_them_does(pinafore, slug):
    """Pocket and flap to the ground (Threads 172, 2014); measured off the lay by the frames of its cuts."""
    made, forms, matching = pinafore
    lay = laid(lay_cloth(CLOTHS[slug], "main", forms, matching=matching))
    assert max(point.miss for point in lay.met) < 1.0
    assert "pocket on its ground" in {point.what for point in lay.met}
    across, along = repeats_of(CLOTHS[slug])
    skirt = made.pieces["skirt_front"]
    corners = [mark.at for mark in skirt.marks if mark.text == "pocket corner"]
    fold = next(edge.path for edge in skirt.edges if edge.fold)
    out = abs((corners[0].x + corners[1].x) / 2 - fold.start.x)
    down = corners[0].y - min(p.y for p in made.cut_lines["skirt_front"].flatten(0.2))
    pocket = made.pieces["pocket"]
    mouth = pocket.edges[0].path
    over_mouth = mouth.start.y - min(p.y for p in made.cut_lines["pocket"].flatten(0.2))

    def frame(name: str) -> list[tuple[float, float, float]]:
        """Middle, top and foot of each cut."""
        found = []
        for cut in lay.flat:
            if cut.name == name:
                xs, ys = [p.x for p in cut.outline], [p.y for p in cut.outline]
                found.append(((min(xs) + max(xs)) / 2, min(ys), max(ys)))
        return found

    [ground] = frame("skirt_front")
    first, second = frame("pocket")
    # By the pattern each pocket lies at one of the two places; the two places are not alike by more than 1 mm.
    for place, pocket_at in ((out, first), (-out, second)):
        bar = CLOTHS[slug].first_bar * (1 - CLOTHS[slug].shrinks_across)
        there, here = ground[0] + place - bar, pocket_at[0] - bar
        # Either way up, an even stripe is the same.
        miss = min(abs((there - sign * here + across / 2) % across - across / 2) for sign in (1, -1))
        assert miss < 1.0
        if along:
            by = (ground[1] + down) - (pocket_at[1] + over_mouth)
            assert abs((by + along / 2) % along - along / 2) < 1.0


def test_the_one_pocket_of_a_shirt_matches_the_front_that_its_mark_names():
    made = draft(demo_style("mens-shirt"), demo_client("nadim"))
    pieces = [p for p in made.pieces.values() if p.cut.cloth == "main"]
    matching = matching_of(pieces, [SewnEdges(s.first, s.second, s.matches) for s in made.seams])
    [ground] = matching.grounds
    [(number, at)] = ground.spots
    front = made.pieces["front"]
    middle = made.points["pocket_left"].x / 2 + made.points["pocket_right"].x / 2
    assert (ground.patch, ground.ground, at.x) == ("pocket", "front", pytest.approx(middle))
    # On paper, right side up, the wearer's left front has its centre at the left.
    side = next(e.path for e in front.edges if e.name == "side").start.x
    assert number == (0 if side > middle else 1)


@pytest.mark.parametrize("garment", WITH_COLLAR, indirect=True, ids=lambda pair: pair[0])
def test_the_collar_has_its_middle_on_a_bar_as_the_back_has(garment):
    """Collar centre back to back (Threads 172, 2014): the back's fold runs along the cloth, the collar's across it."""
    forms, matching = garment
    plaid = CLOTHS["fennimore-plaid"]
    lay = laid(lay_cloth(plaid, "main", forms, matching=matching))
    across, along = repeats_of(plaid)
    bar = plaid.first_bar * (1 - plaid.shrinks_across)
    for cut in lay.flat:
        if cut.name in ("collar", "back"):
            xs, ys = [p.x for p in cut.outline], [p.y for p in cut.outline]
            middle, repeat = (max(xs) + min(xs)) / 2 - bar, across
            if cut.name == "collar":
                middle, repeat = (max(ys) + min(ys)) / 2, along
            assert abs((middle + repeat / 2) % repeat - repeat / 2) < 1.0
    assert {"collar", "back"} <= {point.first for point in lay.met if "main bar" in point.what}
