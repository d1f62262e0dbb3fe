"""Step figures: what is new, what was there, what was there before."""

import re
from collections import Counter
from dataclasses import replace
from itertools import pairwise

import pytest

from catalogue.drafting.model import Draft, Item, Step
from catalogue.drawing.bounds import Recorder
from catalogue.drawing.canvas import LineKind
from catalogue.drawing.paint import paint_lines
from catalogue.drawing.piece_lines import Look
from catalogue.findings import Place
from catalogue.geometry import Path, Point
from catalogue.lengths import Unit, Units, show_length
from catalogue.pattern import Cut, Dart, Edge, InnerLine, Mark, Notch, Piece
from catalogue.site.figures import Figures, step_figures
from catalogue.site.labels import width_in_letters
from catalogue.studio.style import DraftLines, Section
from tests.drafting.people_and_styles import demo_draft
from tests.site import sample


def show(mm: float) -> str:
    return show_length(mm, Units(Unit.CM))


def figures_of(items: list[Item], steps: int, sources: dict[int, str] | None = None) -> Figures:
    sections = tuple(
        Section(1, f"Step {n}", (DraftLines(n, (sources or {}).get(n, ""), (), Place("s.md")),))
        for n in range(1, steps + 1)
    )
    style = replace(sample.style(), sections=sections)
    made = tuple(Step(n, f"Step {n}", "", "Paper", (), Place("s.md")) for n in range(1, steps + 1))
    return step_figures(Draft(style, sample.person(), items=tuple(items), steps=made), show)


def group(figures: Figures, step: int, kind: str) -> set[str]:
    """Ids shown in a group of a step's figure."""
    found = re.findall(rf'<g class="{kind}">(.*?)</g>', str(figures.steps[step].svg))
    return {id for uses in found for id in re.findall(r'href="#([^"]+)"', uses)}


def point(name: str, x: float, y: float, born: int, gone: int | None = None) -> Item:
    return Item(name, name, "point", Point(x, y), "Paper", born, gone)


def line(name: str, born: int, gone: int | None = None, kind: str = "line", length: float = 300.0) -> Item:
    path = Path.polyline([Point(0, 10 * born), Point(length, 10 * born)])
    return Item(name, name if kind == "line" else "", kind, path, "Paper", born, gone)


ITEMS = [
    point("tip", 0, 0, 1),
    line("side", 1, gone=3),
    line("swung", 1, gone=1, kind="guide"),
    point("hem_end", 300, 400, 2),
    line("hem", 3),
]


def test_each_thing_is_new_once_then_old_and_light_when_it_goes() -> None:
    figures = figures_of(ITEMS, 4)
    assert group(figures, 1, "new") == {"i-tip", "i-side"}
    assert group(figures, 1, "guide") == {"i-swung"}
    assert group(figures, 2, "new") == {"i-hem_end"} and group(figures, 2, "old") == {"i-tip", "i-side"}
    assert group(figures, 2, "guide") == set()  # a guide lies there for its own step alone
    assert group(figures, 3, "new") == {"i-hem"} and group(figures, 3, "before") == {"i-side"}
    assert group(figures, 3, "old") == {"i-tip", "i-hem_end"}
    assert str(figures.steps[4].svg) == ""  # nothing new: no figure


def test_only_new_points_and_those_spoken_of_are_named() -> None:
    figures = figures_of(ITEMS, 3, {3: "hem = line from tip right"})
    assert group(figures, 1, "names new") == {"n-tip"}
    assert group(figures, 2, "names old") == set()
    assert group(figures, 3, "names old") == {"n-tip"}


def test_names_are_read_as_words_and_lengths_in_the_client_s_units() -> None:
    figures = figures_of(ITEMS, 3)
    assert ">hem end</text>" in figures.definitions
    assert figures.steps[1].lines == (("side", "30 cm"),)
    # The guide is as long as the line on it: its length is written once.
    assert str(figures.steps[1].svg).count(">30 cm</text>") == 1


def test_a_screen_reader_is_told_what_is_new() -> None:
    figures = figures_of(ITEMS, 3)
    svg = str(figures.steps[3].svg)
    assert 'role="img" aria-labelledby="f3-t f3-d"' in svg
    assert "New lines: hem 30 cm. Changed: side." in svg


def test_all_figures_of_a_paper_have_one_frame_and_nothing_lies_outside() -> None:
    figures = figures_of(ITEMS, 3)
    boxes = {re.findall(r'viewBox="([^"]+)"', str(f.svg))[0] for f in figures.steps.values() if f.svg}
    assert len(boxes) == 1
    left, top, width, height = map(float, boxes.pop().split())
    assert left < 0 and top < 0 and left + width > 300 and top + height > 400


def piece(*darts: Dart, waist: float = 200.0) -> Piece:
    corners = [Point(0, 0), Point(waist, 0), Point(200, 300), Point(0, 300), Point(0, 0)]
    edges = tuple(
        Edge(name, Path.polyline([a, b]))
        for name, a, b in zip(("waist", "side", "hem", "centre"), corners, corners[1:], strict=False)
    )
    return Piece("front", "Front", edges, Cut(), darts=darts)


def test_what_a_piece_had_before_is_not_drawn_as_new() -> None:
    dart = Dart("waist", "waist", Point(100, 90), (Point(90, 0), Point(110, 0)))
    items = [
        Item("a", "front", "piece", piece(), "Paper", 1, gone=2),
        Item("b", "front", "piece", piece(dart, waist=180.0), "Paper", 2),
    ]
    definitions = str(figures_of(items, 2).definitions)
    first, second = re.findall(r"<g id=.*?</g>", definitions)
    assert "kept" not in first
    kept = re.findall(r'class="(\w+) kept" d="([^"]+)"', second)
    assert kept == [("seam", "M200 300L0 300L0 0")]  # hem and centre
    assert 'class="dart" ' in second


def test_ids_can_be_kept_apart_on_a_page_of_several_drafts() -> None:
    draft = sample.draft()
    one, other = step_figures(draft, show, "a-"), step_figures(draft, show, "b-")
    ids = [
        re.findall(r' id="([^"]+)"', str(f.definitions) + "".join(str(s.svg) for s in f.steps.values()))
        for f in (one, other)
    ]
    assert len(set(ids[0])) == len(ids[0]) and not set(ids[0]) & set(ids[1])


def test_two_papers_have_frames_of_their_own() -> None:
    small, large = Path.polyline([Point(0, 0), Point(10, 0)]), Path.polyline([Point(0, 0), Point(1000, 0)])
    items = [
        Item("a", "a", "line", small, "Cuff", 1),
        Item("b", "b", "line", large, "Skirt", 2),
    ]
    style = sample.style()
    steps = (Step(1, "1", "", "Cuff", (), Place("s")), Step(2, "2", "", "Skirt", (), Place("s")))
    figures = step_figures(Draft(style, sample.person(), items=tuple(items), steps=steps), show)
    widths = [float(re.findall(r'viewBox="\S+ \S+ (\S+)', str(figures.steps[n].svg))[0]) for n in (1, 2)]
    assert widths[0] < 60 < 1000 < widths[1]


def test_names_fit_beside_a_single_upright_line() -> None:
    upright = Path.polyline([Point(0, 0), Point(0, 400)])
    items = [
        Item("l", "l", "line", upright, "Paper", 1),
        point("depth_of_the_armhole", 0, 400, 1),
    ]
    figures = figures_of(items, 1)
    left, _, width, _ = map(float, re.findall(r'viewBox="([^"]+)"', str(figures.steps[1].svg))[0].split())
    size = float(re.findall(r'font-size="([^"]+)"', str(figures.steps[1].svg))[0])
    (label,) = re.findall(r'<text id="n-depth([^>]*)>', str(figures.definitions))
    attributes = dict(re.findall(r'([a-z-]+)="([^"]*)"', label))
    words = width_in_letters("depth of the armhole") * size
    before = {"start": 0.0, "middle": words / 2, "end": words}[attributes.get("text-anchor", "start")]
    start = float(attributes["x"]) - before
    assert left <= start and start + words <= left + width


def sheets_of(items: list[Item], papers: tuple[str, ...]) -> Figures:
    places = [Place("s.md")]
    steps = tuple(Step(n, f"Step {n}", "", papers[0], (), places[0], papers=papers) for n in (1, 2, 3))
    return step_figures(Draft(sample.style(), sample.person(), items=tuple(items), steps=steps), show)


def test_a_step_that_changes_two_sheets_shows_both_at_one_scale() -> None:
    def on(paper: str, born: int, gone: int | None = None, waist: float = 200.0) -> Item:
        shape = replace(piece(waist=waist), name=paper.lower(), title=paper)
        return Item(f"{paper}{born}", paper.lower(), "piece", shape, paper, born, gone)

    items = [on("Front", 1, 2), on("Back", 1, 2), on("Front", 2, waist=190), on("Back", 2, waist=260)]
    guide = Item("g", "", "guide", Path.polyline([Point(0, 0), Point(0, 300)]), "Back", 3, 3)
    items += [guide, Item("p", "p", "point", Point(0, 0), "Front", 3)]
    figures = sheets_of(items, ("Front", "Back"))
    trued = figures.steps[2]
    assert [name for name, _ in trued.sheets] == ["Front", "Back"]
    assert "#i-Front2" in trued.sheets[0][1] and "#i-Back2" in trued.sheets[1][1]
    scales = set()
    for _, svg in trued.sheets:
        wide = float(re.findall(r'viewBox="\S+ \S+ (\S+)', svg)[0])
        scales.add(round(wide / float(re.findall(r' width="(\d+)"', svg)[0]), 1))
    assert len(scales) == 1
    ids = re.findall(r' id="([^"]+)"', str(trued.svg))
    assert len(set(ids)) == len(ids)
    # A line only swung on another sheet on the way to a point is not something done there.
    assert [name for name, _ in figures.steps[3].sheets] == ["Front"]


def shown(svg: str) -> tuple[float, float, float, float]:
    """Left edge and width of what a drawing shows, its width on the page, and the height of its letters there."""
    left, _, width, _ = map(float, re.findall(r'viewBox="([^"]+)"', svg)[0].split())
    on_page = float(re.findall(r' width="(\d+)"', svg)[0])
    size = float(re.findall(r'font-size="([^"]+)"', svg)[0])
    return left, width, on_page, size * on_page / width


def test_a_small_sheet_beside_a_large_one_keeps_room_for_its_names() -> None:
    large = Path.polyline([Point(0, 0), Point(0, 1000)])
    small = Path.polyline([Point(0, 0), Point(90, 0)])
    items = [
        Item("b", "b", "line", large, "Back", 1),
        Item("c", "c", "line", small, "Collar", 1),
        point("stand_back", 0, 0, 1),
        point("stand_front", 90, 0, 1),
    ]
    items[2:] = [replace(i, paper="Collar") for i in items[2:]]
    figures = sheets_of(items, ("Collar", "Back"))
    (_, collar), (_, back) = figures.steps[1].sheets
    _, width, on_page, letters = shown(collar)
    assert 90 / width * on_page > 150  # at the scale of the back it would be some 50 px long
    assert 10 <= letters <= 13.1 and 10 <= shown(back)[3] <= 13.1


def test_names_are_not_cut_off_where_only_a_part_of_a_sheet_is_shown() -> None:
    frame = Path.polyline([Point(0, 0), Point(500, 0), Point(500, 700), Point(0, 700)])
    items = [
        Item("f", "f", "line", frame, "Front", 1),
        Item("g", "g", "line", frame, "Back", 1),
        point("end_of_the_long_facing", 250, 300, 2),
        Item("h", "h", "line", Path.polyline([Point(240, 300), Point(250, 300)]), "Front", 2),
        Item("i", "i", "line", Path.polyline([Point(240, 300), Point(250, 300)]), "Back", 2),
    ]
    items[2] = replace(items[2], paper="Front")
    figures = sheets_of(items, ("Front", "Back"))
    front = str(figures.steps[2].sheets[0][1])
    left, width, on_page, letters = shown(front)
    (label,) = re.findall(r'<text id="n-end_of([^>]*)>', str(figures.definitions))
    attributes = dict(re.findall(r'([a-z-]+)="([^"]*)"', label))
    words = width_in_letters("end of the long facing") * letters * width / on_page
    before = {"start": 0.0, "middle": words / 2, "end": words}[attributes.get("text-anchor", "start")]
    start = float(attributes["x"]) - before
    assert left <= start and start + words <= left + width


@pytest.mark.parametrize(
    ("style", "heading", "sheets"),
    [
        ("princess-dress", "The line of the front panels", {"Front"}),
        ("princess-dress", "Neck and panels of the front", {"Front"}),
        ("princess-dress", "The line of the back panels", {"Back"}),
        ("princess-dress", "Centre, side and panels of the back", {"Back"}),
        ("yoked-blouse", "Buttons", {"Front"}),
        ("yoked-shirt", "The back pleat", {"Back"}),
        ("yoked-shirt", "The button stand", {"Front"}),
        ("yoked-shirt", "The collar stand", {"Collar"}),
        ("bodice-block", "The waist darts of the front", {"Front"}),
    ],
)
def test_the_demo_draws_each_step_on_the_sheet_it_is_about(
    style: str, heading: str, sheets: set[str]
) -> None:
    made = demo_draft(style, "ines")
    (step,) = (s for s in made.steps if s.heading == heading)
    figure = step_figures(made, show).steps[step.number]
    assert {name for name, _ in figure.sheets} <= {""} | sheets and figure.sheets


def test_notches_and_marks_are_drawn_and_stand_out_when_new() -> None:
    bare = piece()
    marked = replace(
        bare,
        notches=(Notch("side", Point(200, 120), 2),),
        marks=(Mark(Point(50, 60), "button"), Mark(Point(60, 200), "drill", "pocket corner")),
    )
    later = replace(marked, notches=(*marked.notches, Notch("hem", Point(100, 300))))
    items = [
        Item("a", "front", "piece", bare, "Paper", 1, gone=2),
        Item("b", "front", "piece", marked, "Paper", 2, gone=3),
        Item("c", "front", "piece", later, "Paper", 3),
    ]
    figures = figures_of(items, 3)
    first, second, third = re.findall(r"<g id=.*?</g>", str(figures.definitions))
    assert "notch" not in first and "mark" not in first
    (marks,) = re.findall(r'class="mark" d="([^"]+)"', second)
    assert (
        marks.count("Z") == 2 and marks.count("L") == 4
    )  # the rings of a button and a drill hole, a cross in each
    (double,) = re.findall(r'class="notch" d="([^"]+)"', second)
    assert double.count("M") == 2  # two ticks
    (x0, x1) = (float(x) for x in re.findall(r"M(\S+) \S+L(\S+) ", double)[0])
    assert min(x0, x1) < 200 < max(x0, x1)  # across the edge
    assert third.count('class="notch kept"') == 1 and third.count('class="notch"') == 1
    assert figures.steps[2].marks == ("Front: 1 notch and 2 marks",)
    assert figures.steps[3].marks == ("Front: 1 notch",)
    assert ">pocket corner</text>" in figures.steps[2].svg
    assert ">pocket corner</text>" not in figures.steps[3].svg


def test_a_step_draws_a_piece_as_the_sheets_do() -> None:
    # Whatever the painter strokes, fills and dots stands in the figure: arrow heads, both lines to lengthen at, dots.
    def across(y: float) -> Path:
        return Path.polyline([Point(20, y), Point(180, y)])

    shown = replace(
        piece(Dart("waist", "waist", Point(100, 90), (Point(90, 0), Point(110, 0)))),
        lines=(
            InnerLine(across(120), "lengthen"),
            InnerLine(across(150), "pleat"),
            InnerLine(across(180), "arrow"),
        ),
        marks=(Mark(Point(50, 200)),),
        grain=(Point(150, 210), Point(150, 290)),
    )
    definitions = str(figures_of([Item("a", "front", "piece", shown, "Paper", 1)], 1).definitions)
    (drawn,) = re.findall(r"<g id=.*?</g>", definitions)
    counted = {kind: data.count("M") for kind, data in re.findall(r'class="([^"]+)" d="([^"]+)"', drawn)}
    seen = Recorder()
    paint_lines(seen, shown, Look(fold_marks=False))
    strokes = Counter(args[1] for args, _ in seen.of("stroke"))
    rings = Counter(named["filled"] for _, named in seen.of("dot"))
    assert (
        counted["inner"] == strokes[LineKind.GUIDE] == 3
    )  # the fold of the dart, and two lines to lengthen at
    assert counted["fold pleat"] == strokes[LineKind.PLEAT] == 1
    assert counted["dart"] == strokes[LineKind.DART] == 2
    assert counted["grain"] == strokes[LineKind.GRAIN] == 2
    assert counted["head"] == len(list(seen.of("fill"))) + rings[True] == 3 + 1
    assert counted["mark"] == strokes[LineKind.MARK] + rings[False] == 2 + 1


def test_lines_of_a_kind_are_one_element() -> None:
    definitions = str(figures_of([Item("a", "front", "piece", piece(), "Paper", 1)], 1).definitions)
    assert definitions.count("<path") == 2
    assert 'class="seam" d="M0 0L200 0L200 300L0 300L0 0"' in definitions


def test_signs_of_a_small_piece_shown_beside_a_large_one_can_be_seen() -> None:
    def slab(name: str, wide: float) -> Piece:
        corners = [Point(0, 0), Point(wide, 0), Point(wide, 0.6 * wide), Point(0, 0.6 * wide), Point(0, 0)]
        edges = tuple(Edge(f"e{i}", Path.polyline(ends)) for i, ends in enumerate(pairwise(corners)))
        return Piece(name, name.title(), edges, grain=(Point(wide / 2, 5), Point(wide / 2, 0.6 * wide - 5)))

    items = [
        Item(name, name, "piece", slab(name, wide), name, 1)
        for name, wide in (("facing", 150.0), ("skirt", 1200.0))
    ]
    figures = sheets_of(items, ("facing", "skirt"))
    scales = {
        float(box.split()[2]) / float(width)
        for box, width in re.findall(r'viewBox="([^"]+)" width="([^"]+)"', str(figures.steps[1].svg))
    }
    assert max(scales) - min(scales) < 0.05
    for definition in re.findall(r"<g id=.*?</g>", str(figures.definitions)):
        (heads,) = re.findall(r'class="head" d="M(\S+) (\S+)L\S+ (\S+?)L', definition)
        long = abs(float(heads[2]) - float(heads[1])) / max(scales)
        assert 5 < long < 15, long  # px, of the size the figure is shown at
