"""The forms that write client files, filled in as a dressmaker does: what they write is read again by the program."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from catalogue.lengths import LengthError, Unit, parse_length
from catalogue.people import Client
from catalogue.people.reading import read_client
from catalogue.preview import PreviewServer
from catalogue.site.pages import Site
from catalogue.studio.reading import read_style
from catalogue.studio.settings import Settings
from tests.accessibility import faults

TODAY = "2026-11-27"


def told(page: Any, key: str) -> str:
    return str(page.inner_text(f"#told-{key}"))


def new_client(studio: Path, text: str) -> Client:
    path = studio / "clients" / "written.md"
    path.write_text(text, encoding="utf-8")
    return read_client(path, studio)


def test_a_new_client_is_written_and_read_again(page: Any, studio: Path) -> None:
    page.goto((studio / "site/clients/new/index.html").as_uri())
    page.fill("[name=name]", "Ọmọ́lará: “the elder” #2")
    page.fill("[name=date]", TODAY)
    page.fill("#m-waist_girth", "٨٢٫٥")
    page.fill("#m-hip_girth", "38 1/2 in")
    page.fill("#m-weight", "150 lb")
    page.fill("[name=notes]", "Left shoulder lower.\n\n- hem to the knee")
    assert page.inner_text(".result .state") == "Ready to be saved."
    client = new_client(studio, page.input_value("textarea.file"))
    assert client.ok and not client.findings
    assert client.name == "Ọmọ́lará: “the elder” #2" and client.kind == "woman"
    assert client.measurements["waist_girth"].mm == pytest.approx(825)
    assert client.measurements["hip_girth"].mm == pytest.approx(38.5 * 25.4)
    assert client.weight_kg == pytest.approx(150 * 0.45359237)
    assert [s.date and s.date.isoformat() for s in client.sets] == [TODAY]
    assert client.notes == "Left shoulder lower.\n\n- hem to the knee"


# Each figure with what a build says of it; the limits are those of the program's own register.
JUDGED = [
    ("waist_girth", "7", "can’t be right", {"impossible"}),
    ("waist_girth", "172", "Unusual", {"improbable"}),
    ("waist_girth", "82", "= 82 cm", set()),
    ("waist_girth", "8 2", "not a length", {"bad-length"}),
    ("height", "1,68 m", "= 168 cm", set()),
    ("height", "64", "Did you mean 64 in?", {"impossible"}),
    ("waist_girth", "281/2 in", "Did you mean 28 1/2?", {"bad-length"}),
    ("waist_girth", "28 2/1 in", "Did you mean 28 1/2?", {"bad-length"}),
    ("waist_girth", "28 1/7 in", "No tape measure shows 1/7", {"bad-length"}),
    ("weight", "146", "Write a weight such as", {"not-a-weight"}),
]


def test_a_figure_is_judged_as_a_build_judges_it(page: Any, studio: Path) -> None:
    page.goto((studio / "site/clients/new/index.html").as_uri())
    page.fill("[name=name]", "Ada")
    page.fill("[name=date]", TODAY)
    for key, text, words, codes in JUDGED:
        page.fill(f"#m-{key}", text)
        assert words in told(page, key), text
        assert page.is_disabled("[data-save]") == any(c != "improbable" for c in codes), text
        client = new_client(studio, page.input_value("textarea.file"))
        assert bool(client.findings) == bool(codes), text
        if codes and "bad-length" not in codes:
            assert {f.code for f in client.findings} == codes
        page.fill(f"#m-{key}", "")


def test_figures_that_do_not_go_together_are_told(page: Any, studio: Path) -> None:
    page.goto((studio / "site/clients/new/index.html").as_uri())
    page.fill("[name=name]", "Ada")
    page.fill("#m-waist_girth", "120")
    page.fill("#m-hip_girth", "84")
    assert "the waist is seldom larger than the hip" in told(page, "waist_girth")
    assert {f.code for f in new_client(studio, page.input_value("textarea.file")).findings} == {
        "improbable-together"
    }


def test_figures_that_may_have_changed_places_are_asked_about_as_a_build_asks(
    page: Any, studio: Path
) -> None:
    page.goto((studio / "site/clients/new/index.html").as_uri())
    page.fill("[name=name]", "Ada")
    page.fill("[name=date]", TODAY)
    for figures, doubted, words in (
        ({"bust_girth": "100", "hip_girth": "88", "waist_girth": "64"}, "hip_girth", "some 10.5 cm larger"),
        ({"bust_girth": "104", "hip_girth": "98", "waist_girth": "84"}, "hip_girth", ""),
        ({"back_width": "33", "chest_width": "36"}, "back_width", "some 4.5 cm larger"),
        ({"back_width": "36", "chest_width": "33"}, "back_width", ""),
    ):
        for key, text in figures.items():
            page.fill(f"#m-{key}", text)
        assert ("changed places" in told(page, doubted)) == bool(words) and words in told(page, doubted)
        found = new_client(studio, page.input_value("textarea.file")).findings
        assert [f.code for f in found] == (["exchanged"] if words else [])
        assert not words or words in found[0].message
        for key in figures:
            page.fill(f"#m-{key}", "")


def test_a_hip_under_the_bust_is_read_back_where_too_many_are_made_so_to_be_asked(
    page: Any, studio: Path
) -> None:
    page.goto((studio / "site/clients/new/index.html").as_uri())
    page.fill("[name=name]", "Ada")
    for bust, hip, words in (
        ("92", "88", "= 88 cm, 4 cm less than the bust girth"),
        ("92", "91", "= 91 cm"),
        ("92", "96", "= 96 cm"),
    ):
        page.fill("#m-bust_girth", bust)
        page.fill("#m-waist_girth", "74")
        page.fill("#m-hip_girth", hip)
        assert told(page, "hip_girth") == words
        assert not new_client(studio, page.input_value("textarea.file")).findings


def test_lengths_are_read_as_the_program_reads_them(page: Any, studio: Path) -> None:
    page.goto((studio / "site/clients/new/index.html").as_uri())
    texts = ["92", "92,5", ".5", "36 1/2", "36-1/2", "36½", "1/2", "3 ft 2 in", '38"', "97cm", "970 mm", "0"]
    texts += ["", "a", "92 5", "92 cm 3", "-4", "1/0", "9 99/100", "5' 4\"", "1,5 cm", "९२", "92 kg", "1e3"]
    for unit in (Unit.CM, Unit.IN):
        for text in texts:
            try:
                expected = parse_length(text, unit)
            except LengthError:
                expected = 0.0
            got = page.evaluate("([t, u]) => catalogue.figures.millimetres(t, u)", [text, unit.value])
            if text in (
                ".5",
                "9 99/100",
            ):  # the form asks for a figure before the point, and takes odd fractions
                continue
            assert (got or 0.0) == pytest.approx(expected), (text, unit)


def test_only_what_a_style_needs_is_asked(page: Any, studio: Path) -> None:
    page.goto((studio / "site/clients/new/index.html").as_uri())
    every = page.locator(".asked[data-key]:visible").count()
    page.check("[data-needs]")
    asked = page.locator(".asked[data-key]:visible").evaluate_all("rows => rows.map(r => r.dataset.key)")
    assert sorted(asked) == sorted(read_style(studio / "styles/first-skirt.md", studio).asked)
    assert len(asked) < every


def test_the_studio_takes_a_new_client_and_then_new_figures(
    quiet_page: Any, studio: Path, served: str
) -> None:
    page = quiet_page
    page.goto(served + "clients/new/index.html")
    page.fill("[name=name]", "Nguyễn Thị Đào")
    page.fill("[name=date]", TODAY)
    page.fill("#m-waist_girth", "71")
    page.click("[data-keep]")
    page.wait_for_selector(".said.fine")
    assert "Saved as clients/nguyen-thi-dao.md." in page.inner_text(".said")
    client = read_client(studio / "clients/nguyen-thi-dao.md", studio)
    assert client.name == "Nguyễn Thị Đào" and client.measurements["waist_girth"].mm == 710
    page.reload()  # as the preview does when the catalogue is built
    assert "Saved as clients/nguyen-thi-dao.md." in page.inner_text(".put")
    assert str(page.get_attribute(".put a", "href")).endswith("clients/nguyen-thi-dao/index.html")

    before = (studio / "clients/first-client.md").read_bytes()
    page.goto(served + "clients/first-client/add/index.html")
    page.fill("[name=date]", TODAY)
    page.fill("#m-waist_girth", "78 cm")
    assert "Last:" in told(page, "waist_girth")
    page.click("[data-keep]")
    page.wait_for_selector(".said.fine")
    added = read_client(studio / "clients/first-client.md", studio)
    assert added.measurements["waist_girth"].mm == 780 and len(added.sets) == 2
    [kept] = (studio / "clients").glob("*.bak")
    assert kept.read_bytes() == before
    # The page knows the file as it was: what it sends now must not undo what was kept since.
    page.fill("#m-waist_girth", "79 cm")
    page.click("[data-keep]")
    page.wait_for_selector(".said.stop")
    assert "was changed after this page was made" in page.inner_text(".said")
    assert read_client(studio / "clients/first-client.md", studio).measurements["waist_girth"].mm == 780


CHOOSING = (
    "clients/first-client/add/index.html#what=compare",
    "orders/new/index.html#style=first-skirt&client=first-client",
)


"""Where options are chosen by words, sliders and drawings."""


@pytest.mark.parametrize(("width", "scheme"), [(390, "dark"), (1440, "light")])
@pytest.mark.parametrize("path", ["clients/new/index.html", "clients/first-client/add/index.html", *CHOOSING])
def test_axe_finds_nothing_and_nothing_is_cut_off(
    quiet_page: Any, studio: Path, path: str, width: int, scheme: Any
) -> None:
    page = quiet_page
    page.set_viewport_size({"width": width, "height": 900})
    page.emulate_media(color_scheme=scheme)
    file, _, asked = path.partition("#")
    page.goto((studio / "site" / file).as_uri() + (f"#{asked}" if asked else ""))
    if path in CHOOSING:
        assert page.locator("input[type=range]:visible").count() == 3
        page.locator("[data-option=length], [data-choice=length]").fill("7 m")
        assert page.locator("[aria-invalid=true]:visible").count() == 1
    else:
        page.fill("#m-waist_girth", "7")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert faults(page) == []


@pytest.mark.parametrize("path", CHOOSING)
def test_options_are_chosen_by_keyboard(page: Any, studio: Path, path: str) -> None:
    file, _, asked = path.partition("#")
    page.goto((studio / "site" / file).as_uri() + (f"#{asked}" if asked else ""))
    length = page.locator("[data-option=length], [data-choice=length]")
    length.focus()
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.type") == "range"
    page.keyboard.press("Home")
    assert length.input_value() == "40 cm"
    assert page.evaluate("document.activeElement.getAttribute('aria-valuetext')") == "40 cm"
    page.keyboard.press("ArrowRight")
    assert length.input_value() == "40.5 cm"
    outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert outline != "none"


@pytest.mark.parametrize("path", CHOOSING)
def test_a_form_of_choices_can_be_printed_and_filled_in_without_script(
    browser: Any, studio: Path, path: str
) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((studio / "site" / path.partition("#")[0]).as_uri())
    assert page.locator(".needs-script:visible").count() == 0
    assert "can be printed and filled in by hand" in page.inner_text("main")
    context.close()


def test_an_order_and_a_fitting_are_written_into_the_clients_file(
    page: Any, studio: Path, served: str
) -> None:
    page.goto(served + "orders/new/index.html")
    # Nobody is chosen by chance.
    assert "The client is not chosen. The style is not chosen." in page.inner_text(".result .state")
    assert not page.is_visible("#options"), "there is nothing to choose yet"
    page.select_option("[name=client]", "first-client")
    page.select_option("[name=style]", "first-skirt")
    assert page.is_visible("#options")
    page.fill("[name=name]", "Blue skirt: the long one")
    page.fill("[name=date]", TODAY)
    page.fill("[name=due]", "2026-11-01")
    assert "due before it was ordered" in page.inner_text(".result .state")
    page.fill("[name=due]", "2026-12-18")
    page.fill('[data-use="main"]', "Blue linen")
    page.fill("[name=price]", "a lot of money")
    assert "The price is no amount" in page.inner_text(".result .state")
    page.fill("[name=price]", "180,50")
    page.click("[data-keep]")
    page.wait_for_selector(".said.fine")
    client = read_client(studio / "clients/first-client.md", studio)
    [order] = client.orders
    assert (order.style, str(order.ordered), str(order.due)) == ("first-skirt", TODAY, "2026-12-18")
    assert [(use, name) for use, name, *_ in order.cloths] == [("main", "Blue linen")]
    assert str(order.price) == "180.50"

    before = len(client.fittings)
    (studio / "site/clients/first-client/add/index.html").write_text(
        Site(Settings(), [read_style(studio / "styles/first-skirt.md", studio)], [client]).adding_page(
            client, {("first-skirt", client.slug): {"alterations": ("let-out-waist", "swayed-back")}}
        ),
        encoding="utf-8",
    )
    page.goto(served + "clients/first-client/add/index.html")
    page.check("[value=fittings]")
    page.fill("[name=fitted]", TODAY)
    # What can be changed on the garment is offered, and written as it is read: 3 to 12 mm are usual.
    page.select_option("[data-change]", label="Waist let out")
    assert page.input_value("[name=changes]") == "waist let out 0.8 cm"
    assert "drag lines run round the waist" in page.inner_text("[data-sign]")
    page.fill("[name=changes]", "side seams let out 5 mm each\n- swayed back 6 mm - seen: folds at the waist")
    page.click("[data-keep]")
    page.wait_for_selector(".said.fine")
    fitted = read_client(studio / "clients/first-client.md", studio)
    assert len(fitted.fittings) == before + 2
    assert {f.seen for f in fitted.fittings} == {"", "folds at the waist"}


HOSTILE = [
    *("waist let out 5 mm #2", "#3 hip", "pins: at the side", "pinned at:", "? swayed back", "it's tight"),
    *(
        '"quoted" back',
        "{a} b",
        "[c] d",
        "a, b: c",
        "], x",
        "}, y",
        ", z",
        "<script>x</script>",
        "back\\nslash \\",
    ),
    *(
        "% of it",
        "@ the hip",
        "`tick`",
        "~",
        "null",
        "true",
        "123",
        "2026-01-01",
        "!!str x",
        "&a x",
        "*a",
        "| x",
        "> y",
    ),
    *("{{ x }}", "می\u200cخواهم", "hem up 1 cm - seen: drags: to the #left"),
]


"""Lines that mean something else to what reads the file, each of which must stay what it is."""


def test_what_is_typed_stays_what_it_is(page: Any, studio: Path, served: str) -> None:
    page.goto(served + "clients/first-client/add/index.html")
    page.check("[value=fittings]")
    page.fill("[name=fitted]", TODAY)
    page.fill("[name=changes]", "\n".join(HOSTILE))
    page.click("[data-keep]")
    page.wait_for_selector(".said.fine")
    client = read_client(studio / "clients/first-client.md", studio)
    texts = [
        f"{f.text} - seen: {f.seen}" if f.seen else f.text for f in client.fittings if str(f.date) == TODAY
    ]
    assert texts == HOSTILE
    write_pages(studio, client)
    page.goto(served + "orders/new/index.html")
    page.select_option("[name=client]", "first-client")
    page.select_option("[name=style]", "first-skirt")
    page.fill("[name=date]", TODAY)
    name = 'skirt: #2 "for {Ada}" \\ & *co* - ?'
    page.fill("[name=name]", name)
    page.fill("[name=notes]", "no hurry: #1\n---\norders:\n  x: y")
    page.fill('[data-use="main"]', "- [wool]: 'grey' #7")
    page.fill("[name=price]", "95,50")
    page.fill("[name=deposit]", "120")
    assert page.text_content("[data-told=deposit]") == "The deposit is more than the price: check both."
    page.fill("[name=deposit]", "20")
    assert page.text_content("[data-told=deposit]") == page.text_content("[data-told=style]") == ""
    page.click("[data-keep]")
    page.wait_for_selector(".said.fine")
    [order] = read_client(studio / "clients/first-client.md", studio).orders
    assert (order.name, order.note) == (name, "no hurry: #1 --- orders: x: y")
    assert [(use, what) for use, what, *_ in order.cloths] == [("main", "- [wool]: 'grey' #7")]


def test_a_page_that_is_made_again_keeps_what_was_typed(
    page: Any, studio: Path, server: PreviewServer, served: str
) -> None:
    """A save in another window changes the page of a form that someone is filling in."""
    path = "clients/first-client/add/index.html"
    page.goto(served + path)
    page.fill("#m-waist_girth", "81,5")
    page.check("[value=fittings]")
    page.fill("[name=changes]", "swayed back 6 mm\nhip let out 4 mm")
    page.check("[value=measured]")
    file = studio / "clients/first-client.md"
    file.write_text(file.read_text(encoding="utf-8").rstrip() + "\n\nShe likes pockets.\n", encoding="utf-8")
    write_pages(studio, read_client(file, studio))
    with page.expect_navigation():
        server.news.tell([path], "")
    page.wait_for_selector('.said:has-text("made again meanwhile")')
    assert page.input_value("#m-waist_girth") == "81,5" and page.is_checked("[value=measured]")
    assert page.input_value("[name=changes]") == "swayed back 6 mm\nhip let out 4 mm"
    page.click("[data-keep]")
    page.wait_for_selector(".said.fine")
    assert "waist girth: 81,5\n" in file.read_text(encoding="utf-8")
    # What was kept is not offered a second time.
    with page.expect_navigation():
        server.news.tell([path], "again")
    page.wait_for_load_state()
    assert page.input_value("#m-waist_girth") == ""


def write_pages(studio: Path, client: Client) -> None:
    """The pages of forms, as a build makes them again."""
    site = Site(Settings(), [read_style(studio / "styles/first-skirt.md", studio)], [client])
    pages = {"clients/first-client/add/index.html": site.adding_page(client), **site.home_pages({})}
    for path, text in pages.items():
        file = studio / "site" / path
        file.write_text(text, encoding="utf-8") if isinstance(text, str) else file.write_bytes(text)
