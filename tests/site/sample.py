"""A small studio made by hand: a bodice back drafted in eight steps, and a few people of our own invention.

The figures follow the common practice of the trade (no source): armhole depth a sixth of the bust girth plus
1 1/2 in, quarter girths on half pieces.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from catalogue.drafting.model import Check, Draft, Finished, Item, Seam, Step, Working
from catalogue.findings import Place
from catalogue.geometry import Knot, Path, Point, smooth
from catalogue.language.values import Quantity
from catalogue.lengths import Unit, Units, show_length
from catalogue.pattern import Cut, Dart, Edge, InnerLine, Piece
from catalogue.people import Client, Measured, MeasurementSet
from catalogue.site.draft_page import draft_summary
from catalogue.site.pages import Site
from catalogue.site.summaries import Download, as_plain
from catalogue.studio.prose import Formula, Prose
from catalogue.studio.settings import Settings
from catalogue.studio.style import Choice, DraftLines, Section, Style

FILE = "styles/plain-bodice.md"
DAY, LATER = datetime.date(2025, 11, 3), datetime.date(2026, 2, 12)


def person(
    name: str = "Amaka Bello-Lindqvist",
    slug: str = "amaka",
    units: Unit = Unit.CM,
    kind: str = "woman",
    notes: str = "Left shoulder lower by **1 cm**.\n\n- Try the neckline on before it is faced.\n- [ ] check the hem",
    without: Sequence[str] = (),
) -> Client:
    """A client with the measurements the sample style needs, taken on two days."""
    file = f"clients/{slug}.md"
    first = {"bust_girth": 955.0, "waist_girth": 770.0, "back_waist_length": 405.0}
    second = {"bust_girth": 965.0, "waist_girth": 762.0, "shoulder_length": 123.0, "neck_base_girth": 372.0}
    sets = tuple(
        MeasurementSet(
            day,
            {
                k: Measured(mm, show_length(mm, Units(units)), day, Place(file, 5 + n))
                for n, (k, mm) in enumerate(taken.items())
                if k not in without
            },
        )
        for day, taken in ((DAY, first), (LATER, second))
    )
    newest = {k: m for s in sets for k, m in s.values.items()}
    return Client(
        slug,
        file,
        name,
        kind,
        Units(units),
        sets,
        newest,
        garments=("plain-bodice",),
        notes=notes,
        digest="c",
    )


def _prose(markdown: str, *formulas: tuple[int, str]) -> Prose:
    made = tuple(Formula(n, text, None, Place(FILE)) for n, text in formulas)
    return Prose(markdown, 1, made)


STEPS = (
    (
        "The frame",
        "Square down from the nape; the armhole lies {0} below it.",
        "scye_depth = bust_girth / 6 + 1 1/2 in\nnape = start\ncb_scye = scye_depth down from nape\n"
        "cb_waist = back_waist_length down from nape",
    ),
    (
        "Bust and waist lines",
        "Square across a quarter of the bust girth with ease, {1}.",
        "side_scye = quarter right from cb_scye\nside_waist = quarter right from cb_waist\n"
        "bust_line = line cb_scye to side_scye\nwaist_line = line cb_waist to side_waist",
    ),
    (
        "Neck",
        "The neck is {2} wide.",
        "neck_point = neck right and 2 cm up from nape\nneckline = curve nape leaving right, neck_point",
    ),
    (
        "Shoulder",
        "Along the shoulder from the neck point.",
        "tip = shoulder_length on a slope from neck_point\nshoulder = line neck_point to tip",
    ),
    (
        "Armhole",
        "Down from the tip, hollowed at the back width, level at the side seam.",
        "hollow = between tip and side_scye\narmhole = curve tip, hollow, side_scye arriving right",
    ),
    (
        "Side",
        "The side seam comes in {3} at the waist.",
        "side_in = 2 cm left from side_waist\nside = line side_scye to side_in",
    ),
    (
        "Waist dart",
        "A dart of 2.5 cm halfway along the waist.",
        "dart_point = above\nleft_leg = a\nright_leg = b",
    ),
    (
        "The back, cut out",
        "The piece with its fold at the centre.",
        'piece back "Bodice back", cut 1 on fold',
    ),
)
FORMULAS = {0: "scye_depth", 1: "quarter", 2: "neck_width", 3: "2 cm", 4: "<script>alert(1)</script>"}


def style(steps: int = len(STEPS), **changes: object) -> Style:
    """The sample style; more than eight steps repeat the last but one."""
    sections = [
        Section(
            0,
            "",
            (_prose("A plain back. Depth {0} of bust.".replace("{0}", Prose.slot(0)), (0, FORMULAS[0])),),
        ),
        Section(1, "Drafting", ()),
    ]
    for n in range(steps):
        heading, words, source = STEPS[min(n, len(STEPS) - 2) if n < steps - 1 else len(STEPS) - 1]
        used = tuple((i, FORMULAS[i]) for i in range(4) if f"{{{i}}}" in words)
        for i, _ in used:
            words = words.replace(f"{{{i}}}", Prose.slot(i))
        sections.append(
            Section(2, heading, (_prose(words, *used), DraftLines(n + 1, source, (), Place(FILE, 20 + n))))
        )
    sections += [
        Section(
            1,
            "Sewing",
            (
                _prose(
                    "1. Sew the darts and press them to the centre.\n2. Join the side seams.\n\n- [ ] thread snipped"
                ),
            ),
        ),
        Section(2, "Hem", (_prose("Turn up | once.\n\n| where | how much |\n|---|---|\n| hem | 4 cm |"),)),
    ]
    made = Style(
        "plain-bodice",
        FILE,
        "Plain bodice back",
        garment="bodice",
        audience=("women",),
        summary="A close back to try the drafting on.",
        tags=("block", "woven"),
        cloth=(("main", "firm cotton, 140 cm wide"), ("lining", "cotton lawn")),
        notions=("35 cm zip", "thread"),
        choices=(
            Choice("bust ease", "6 cm", "4 cm", "10 cm", about="room round the bust"),
            Choice("neck", "round", options=("round", "square")),
        ),
        sources=("Common practice of the trade.",),
        sections=tuple(sections),
        needs=("bust_girth", "waist_girth", "back_waist_length", "shoulder_length", "neck_base_girth"),
        digest=f"s{steps}",
    )
    return replace(made, **changes)  # type: ignore[arg-type]


def draft(client: Client | None = None, of: Style | None = None, steps: int = len(STEPS)) -> Draft:
    """The sample style drafted for a client."""
    client = client or person()
    of = of or style(steps)
    missing = tuple(k for k in of.needs if k not in client.measurements)
    if missing:
        return Draft(of, client, missing=missing, notions=of.notions)
    # A style that needs less is drafted with a shoulder of its own.
    body = {"shoulder_length": 120.0, "neck_base_girth": 372.0} | {
        k: m.mm for k, m in client.measurements.items()
    }

    def show(mm: float) -> str:
        return show_length(mm, client.units)

    scye, waist = body["bust_girth"] / 6 + 38.1, body["back_waist_length"]
    quarter, neck = body["bust_girth"] / 4 + 15, body["neck_base_girth"] / 6 + 5
    p = {
        "nape": Point(0, 0),
        "cb_scye": Point(0, scye),
        "cb_waist": Point(0, waist),
        "side_scye": Point(quarter, scye),
        "side_waist": Point(quarter, waist),
        "neck_point": Point(neck, -20),
        "tip": Point(neck + body["shoulder_length"] * 0.94, 20),
        "hollow": Point(neck + body["shoulder_length"] * 0.87, scye * 0.62),
        "side_in": Point(quarter - 20, waist),
        "dart_point": Point(quarter * 0.45, scye + 20),
        "left_leg": Point(quarter * 0.45 - 12.5, waist),
        "right_leg": Point(quarter * 0.45 + 12.5, waist),
    }
    paths = {
        "centre_back": Path.polyline([p["nape"], p["cb_waist"]]),
        "bust_line": Path.polyline([p["cb_scye"], p["side_scye"]]),
        "waist_line": Path.polyline([p["cb_waist"], p["side_waist"]]),
        "neckline": smooth([Knot(p["nape"], leaving=Point(1, 0)), Knot(p["neck_point"])]),
        "shoulder": Path.polyline([p["neck_point"], p["tip"]]),
        "armhole": smooth([Knot(p["tip"]), Knot(p["hollow"]), Knot(p["side_scye"], arriving=Point(1, 0))]),
        "side": Path.polyline([p["side_scye"], p["side_in"]]),
    }
    waist_edge = Path.polyline([p["side_in"], p["right_leg"], p["left_leg"], p["cb_waist"]])
    piece = Piece(
        "back",
        "Bodice back",
        (
            Edge("neck", paths["neckline"]),
            Edge("shoulder", paths["shoulder"]),
            Edge("armhole", paths["armhole"]),
            Edge("side", paths["side"]),
            Edge("waist", waist_edge),
            Edge("centre", Path.polyline([p["cb_waist"], p["nape"]]), fold=True),
        ),
        Cut(1, on_fold=True),
        grain=(Point(60, 80), Point(60, waist - 60)),
        darts=(Dart("waist", "waist", p["dart_point"], (p["right_leg"], p["left_leg"])),),
        lines=(InnerLine(paths["bust_line"]),),
    )
    born = {
        1: ("nape", "cb_scye", "cb_waist", "centre_back"),
        2: ("side_scye", "side_waist", "bust_line", "waist_line"),
        3: ("neck_point", "neckline"),
        4: ("tip", "shoulder"),
        5: ("hollow", "armhole"),
        6: ("side_in", "side"),
        7: ("dart_point", "left_leg", "right_leg"),
    }
    items = list(_items(born, p, paths))
    for extra in range(8, steps):
        shift = Point(6.0 * (extra - 7), 4.0 * (extra - 7))
        at = p["dart_point"] + shift
        curve = smooth([Knot(p["tip"]), Knot(at), Knot(p["side_in"])])
        items.append(Item(f"x{extra}", f"extra_{extra}", "point", at, "Back", extra))
        items.append(Item(f"y{extra}", f"curve_{extra}", "line", curve, "Back", extra))
    items.append(Item("piece", "back", "piece", piece, "Back", steps))
    workings = (
        Working(
            "scye_depth",
            "bust girth ÷ 6 + 1 1/2 in",
            f"{show(body['bust_girth'])} ÷ 6 + 1 1/2 in",
            Quantity(scye, 1),
            show(scye),
        ),
        Working(
            "quarter",
            "bust girth ÷ 4 + 15 mm",
            f"{show(body['bust_girth'])} ÷ 4 + 15 mm",
            Quantity(quarter, 1),
            show(quarter),
        ),
    )
    blocks = [b for s in of.sections for b in s.parts if isinstance(b, DraftLines)]
    headings = [s.heading for s in of.sections if any(isinstance(b, DraftLines) for b in s.parts)]
    drafted = tuple(
        Step(n, heading, "Drafting", "Back", workings if n in (1, 2) else (), b.place)
        for n, (b, heading) in enumerate(zip(blocks, headings, strict=True), 1)
    )
    return Draft(
        of,
        client,
        values={w.name: w.result for w in workings},
        points=p,
        paths=paths,
        pieces={"back": piece},
        items=tuple(items),
        steps=drafted,
        seams=(
            Seam(
                "back.side",
                "back.side",
                paths["side"].length,
                paths["side"].length,
                0.0,
                True,
                "",
                Place(FILE),
            ),
        ),
        checks=(
            Check(
                "the armhole is longer than the side seam",
                True,
                f"{show(paths['armhole'].length)} against {show(paths['side'].length)}",
                Place(FILE),
            ),
        ),
        finished=(Finished("bust", 4 * quarter, body["bust_girth"], True, "room enough for woven cloth"),),
        notions=of.notions,
        rendered={0: show(scye), 1: show(quarter), 2: show(neck), 3: show(20)},
        choices={"bust ease": show(60), "neck": "round"},
    )


def _items(
    born: dict[int, tuple[str, ...]], points: dict[str, Point], paths: dict[str, Path]
) -> Iterable[Item]:
    for step, names in born.items():
        for name in names:
            if name in points:
                yield Item(f"p{name}", name, "point", points[name], "Back", step)
            else:
                gone = 6 if name == "waist_line" else None
                yield Item(f"l{name}", name, "line", paths[name], "Back", step, gone)


def settings() -> Settings:
    return Settings(name="Marram & Tide", strapline="Clothes cut for one person at a time")


def page(site: Site, of: Draft, downloads: Sequence[Download] = ()) -> str:
    """The page of a draft, as a build makes it."""
    return site.draft_page(site.view(of), of.style, of.client, downloads)


def summary(site: Site, of: Draft) -> dict[str, Any]:
    """What other pages need of a draft, as a build keeps it."""
    return as_plain(draft_summary(site.view(of), of.style, of.client))
