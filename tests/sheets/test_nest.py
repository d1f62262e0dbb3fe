"""Several clients or sizes on one sheet: on one another, each in a line of its own, each in a layer."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date

import pypdf
import pypdfium2
import pytest

from catalogue.drafting.model import Draft
from catalogue.drawing.linestyles import OWN_LINES
from catalogue.sheets.nest import nested_pdf
from catalogue.sheets.paper import PAPERS
from catalogue.sheets.sheet import SheetSettings, sheet_pdf
from tests.drawing.pieces import bodice_back, bodice_front, draft, skirt_front, tab
from tests.sheets.reading import Stroke, form_content, length, pdf_strokes

SETTINGS = SheetSettings(day=date(2026, 3, 5), studio="Thread and Chalk")


def sizes(count: int = 3) -> list[Draft]:
    """Skirt and tab in growing sizes."""
    return [
        draft(skirt_front(250 + 14 * i, 600 + 10 * i), tab(), name=f"Client {chr(65 + i)}")
        for i in range(count)
    ]


def layers_of(data: bytes) -> dict[str, str]:
    """Titles of the layers by the name used for each in content."""
    page = pypdf.PdfReader(io.BytesIO(data)).pages[-1]
    return {k[1:]: str(v.get_object()["/Name"]) for k, v in page["/Resources"]["/Properties"].items()}  # type: ignore[union-attr]


def strokes_by_owner(data: bytes) -> dict[str, list[Stroke]]:
    """The wide strokes of each client's layer."""
    names = layers_of(data)
    found: dict[str, list[Stroke]] = {}
    for stroke in pdf_strokes(form_content(data)):
        owners = [names[layer] for layer in stroke.layers if names[layer].startswith("Client")]
        if owners and stroke.width == 0.7:
            found.setdefault(owners[0], []).append(stroke)
    return found


def test_the_first_page_says_which_order_a_clients_outline_is_not_for() -> None:
    drafts = sizes()
    notice = "The order “red one” has other options (length 70 cm): print it from the order, not this."
    drafts[1].client.notices = (notice,)
    first = pypdf.PdfReader(io.BytesIO(nested_pdf(drafts, PAPERS["a3"], SETTINGS).data)).pages[0]
    assert f"Client B: {notice}" in " ".join(first.extract_text().split())


def test_every_client_is_drawn_with_a_line_of_its_own_at_true_length() -> None:
    drafts = sizes()
    result = nested_pdf(drafts, PAPERS["a0"], SETTINGS)
    found = strokes_by_owner(result.data)
    assert list(found) == ["Client A", "Client B", "Client C"]
    dashes = set()
    for d, strokes in zip(drafts, found.values(), strict=True):
        assert len({s.dash for s in strokes}) == 1
        dashes.add(strokes[0].dash)
        drawn = sum(length(s.segments) for s in strokes)
        due = sum(e.path.length for p in d.pieces.values() for e in p.edges if not e.fold)
        assert abs(drawn - due) < 0.1
    assert len(dashes) == 3


def test_kinds_of_line_differ_without_colour() -> None:
    assert len({(s.width, s.dash) for s in OWN_LINES}) == len(OWN_LINES) == 12
    assert {s.tone for s in OWN_LINES} == {0.0}


def test_like_pieces_lie_on_one_another_with_their_folds_together() -> None:
    drafts = [draft(bodice_front(w), bodice_back(w - 10), name=n) for w, n in ((240, "One"), (262, "Two"))]
    result = nested_pdf(drafts, PAPERS["a0"], SETTINGS)
    folds = [s for s in pdf_strokes(form_content(result.data)) if s.width == 0.5 and len(s.dash) == 4]
    assert len(folds) == 2
    (a, b), (c, d) = (s.segments[0] for s in folds)
    # On one line, and one end in common.
    level = [(p[0], p[1]) for p in (a, b, c, d)]
    xs, ys = [p[0] for p in level], [p[1] for p in level]
    assert min(max(xs) - min(xs), max(ys) - min(ys)) < 0.01
    assert min(abs(p[0] - q[0]) + abs(p[1] - q[1]) for p in (a, b) for q in (c, d)) < 0.01


def test_nesting_needs_less_paper_than_sheets_apart() -> None:
    drafts = sizes(4)
    apart = sum(len(sheet_pdf(d, PAPERS["a4"], SETTINGS).tiles) for d in drafts)
    together = len(nested_pdf(drafts, PAPERS["a4"], SETTINGS).tiles)
    assert together < apart / 2


def test_hiding_a_layer_hides_that_client_alone() -> None:
    """Seen by pdfium, with the layer switched off in the file."""
    result = nested_pdf(sizes(2), PAPERS["roll-36in"], SETTINGS)

    def ink(hidden: str | None) -> int:
        writer = pypdf.PdfWriter(clone_from=io.BytesIO(result.data))
        properties = writer._root_object["/OCProperties"]
        if hidden:
            off = [r for r in properties["/OCGs"] if r.get_object()["/Name"] == hidden]
            assert len(off) == 1
            properties["/D"][pypdf.generic.NameObject("/OFF")] = pypdf.generic.ArrayObject(off)
        out = io.BytesIO()
        writer.write(out)
        page = pypdfium2.PdfDocument(out.getvalue())[0]
        return int((page.render(scale=1, grayscale=True).to_numpy() < 200).sum())

    whole = ink(None)
    for name in ("Client A", "Client B", "Labels", "Marks", "Cutting lines and folds"):
        assert ink(name) < whole, name
    both = {ink("Client A"), ink("Client B")}
    assert len(both) == 2


def test_layers_are_gathered_for_the_viewer() -> None:
    result = nested_pdf(sizes(2), PAPERS["a4"], replace(SETTINGS, grid=True))
    root = pypdf.PdfReader(io.BytesIO(result.data)).trailer["/Root"]
    order = root["/OCProperties"]["/D"]["/Order"]  # type: ignore[index]
    names = [
        [str(x) if isinstance(x, str) else str(x.get_object()["/Name"]) for x in entry]
        if isinstance(entry, list)
        else str(entry.get_object()["/Name"])
        for entry in order
    ]
    assert names == [
        ["Clients and sizes", "Client A", "Client B"],
        "Cutting lines and folds",
        "Seam lines",
        "Marks",
        "Labels",
        "Grid of 5 cm",
    ]


def test_the_first_page_has_the_key_and_the_pieces_are_labelled_once() -> None:
    result = nested_pdf(sizes(3), PAPERS["a4"], SETTINGS)
    pages = [" ".join(p.extract_text().split()) for p in pypdf.PdfReader(io.BytesIO(result.data)).pages]
    assert "Lines Client A Client B Client C" in pages[0]
    text = " ".join(p.get_textpage().get_text_range() for p in list(pypdfium2.PdfDocument(result.data))[1:])
    assert text.count("A Skirt front") >= 1
    assert "Client A, Client B, Client C" in " ".join(text.split())


def test_what_cannot_be_nested_is_said() -> None:
    with pytest.raises(ValueError, match="nothing to nest"):
        nested_pdf([], PAPERS["a4"], SETTINGS)
    with pytest.raises(ValueError, match="only one style"):
        nested_pdf([draft(tab()), draft(tab(), title="Other")], PAPERS["a4"], SETTINGS)
    with pytest.raises(ValueError, match="13 are too many"):
        nested_pdf([draft(tab()) for _ in range(13)], PAPERS["a4"], SETTINGS)


def test_pieces_only_some_have_and_namesakes() -> None:
    drafts = [draft(skirt_front(), tab(), name="Ada"), draft(skirt_front(260), name="Ada")]
    result = nested_pdf(drafts, PAPERS["a4"], SETTINGS)
    assert not result.findings
    assert {t for t in layers_of(result.data).values() if t.startswith("Ada")} == {"Ada", "Ada (2)"}


def test_two_runs_give_the_same_bytes() -> None:
    assert (
        nested_pdf(sizes(), PAPERS["a4"], SETTINGS).data == nested_pdf(sizes(), PAPERS["a4"], SETTINGS).data
    )
