"""A piece that is wider than its cloth is reported: in a warning, in the cut list and with the cloth."""

from __future__ import annotations

from catalogue.building.outputs import OutputFile, lay_pictures, wrong
from catalogue.cloth.narrow import too_wide
from catalogue.drafting import Draft
from catalogue.findings import Severity
from catalogue.lengths import Unit
from catalogue.site.pages import Site
from catalogue.studio.settings import Settings
from tests.drafting.people_and_styles import draft, person, style_of
from tests.site.sample import page

SQUARE = """across = {width}
a = start
b = across right from a
c = 60 cm down from b
d = 60 cm down from a

piece panel "Skirt panel", {cut}
  outline top: a to b
    right: b to c
    hem: c to d
    left: d to a{fold}
  grain along left
allow 1 cm, left {left}
"""


def panel(
    width: str, cloth: str = "firm woven, 140 cm wide", unit: Unit = Unit.CM, *, on_fold: bool = False
) -> Draft:
    cut, fold, left = ("cut 1 on fold", ", fold", "0 cm") if on_fold else ("cut 1", "", "1 cm")
    block = SQUARE.format(width=width, cut=cut, fold=fold, left=left)
    made = draft(style_of(block, f"cloth:\n  lining: thin\n  main: {cloth}\n"), person(unit))
    assert not made.findings, [str(f) for f in made.findings]
    return made


def test_a_piece_that_fits_its_cloth_is_not_reported():
    assert not too_wide(panel("138 cm")) and not wrong(panel("138 cm"))
    assert not wrong(panel("200 cm", "firm woven"))


def test_the_allowances_and_the_other_half_of_a_fold_count():
    """138 cm and two allowances of 1 cm are 140 cm; half of 69.5 cm with one of 1 cm is 141 cm opened out."""
    [wide] = too_wide(panel("69.5 cm", on_fold=True))
    assert (wide.piece, wide.cloth, round(wide.across), wide.width) == ("panel", "main", 1410, 1400)


def test_the_warning_says_what_can_be_done_at_the_width_in_the_file():
    [finding] = wrong(panel("150.3 cm"))
    assert finding.message == "“Skirt panel” is 152.3 cm across, and the main cloth is 140 cm wide."
    assert finding.hint == "Piece it, or use a cloth of 153 cm or wider."
    assert finding.severity is Severity.WARNING
    assert finding.place is not None and finding.source.strip() == "main: firm woven, 140 cm wide"
    assert finding.source[finding.place.column - 1 :] == "140 cm wide"


def test_it_is_said_in_the_client_s_units():
    [finding] = wrong(panel("60 in", "firm woven, 54 in wide", Unit.IN))
    # 60 in and two allowances of 1 cm: 60.787 in, to the next sixteenth 60 13/16.
    assert finding.message == "“Skirt panel” is 60 13/16 in across, and the main cloth is 54 in wide."
    assert finding.hint == "Piece it, or use a cloth of 61 in or wider."


def test_the_page_says_so_where_no_piece_fits_and_no_lay_is_drawn():
    made = panel("150 cm")
    drawn = [each.name for each in lay_pictures(Settings(), made) if isinstance(each, OutputFile)]
    assert not drawn
    html = page(Site(Settings(), [made.style], [made.client]), made)
    said = "“Skirt panel” is 152 cm across, and the main cloth is 140 cm wide."
    listed = html[html.index('id="cut-list"') :]
    assert "152 cm across: wider than the cloth, 140 cm" in listed[: listed.index("</table>")]
    cloth = html[html.index('<h2 id="cloth"') :]
    assert f"{said} Piece it, or use a cloth of 152 cm or wider." in cloth[: cloth.index("</section>")]
    warnings = html[html.index('<h2 id="findings"') :]
    assert said in warnings[: warnings.index("</section>")]
