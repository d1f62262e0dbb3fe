"""Pages are whole without script, escape what files say, and link to what is there."""

import json
import re
from dataclasses import replace
from html.parser import HTMLParser
from urllib.parse import parse_qsl, unquote, urldefrag

import pytest

from catalogue.drafting.model import Check, Seam
from catalogue.findings import Finding, Place, Severity
from catalogue.lengths import Unit
from catalogue.site.extremes import choice_picture_path, values_drawn
from catalogue.site.overlay import FILE as OUTLINE
from catalogue.site.overlay import earlier, outline_script
from catalogue.site.pages import Site
from catalogue.site.paths import PICTURE, client_path, compare_path, draft_path, style_path
from catalogue.site.pictures import draft_picture
from catalogue.site.summaries import Download
from tests.site import sample

# Elements that end by themselves (HTML standard, "void elements").
VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
# SVG elements that the pages write with a closing slash.
SELF_CLOSED = {"path", "use", "circle", "rect"}


class Page(HTMLParser):
    """A page taken apart: elements that don't close, ids, links and plain text."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.faults: list[str] = []
        self.ids: list[str] = []
        self.links: list[tuple[str, str, str]] = []
        self.references: list[str] = []
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.said: list[str] = []
        self.feed(text)
        self.close()
        if self.open:
            self.faults.append(f"left open: {self.open}")

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.note(tag, attrs)
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.note(tag, attrs)
        if tag not in SELF_CLOSED:
            self.faults.append(f"<{tag}/> is not closed in HTML")

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> closes nothing that is open")

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] not in ("script", "style"):
            self.said.append(data)

    def note(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        got = dict(attrs)
        if len(got) != len(attrs):
            self.faults.append(f"<{tag}> has an attribute twice")
        self.elements.append((tag, got))
        if got.get("id"):
            self.ids.append(got["id"] or "")
        for name in ("href", "src"):
            if name in got:
                self.links.append((tag, name, got[name] or ""))
        for name in ("aria-labelledby", "aria-describedby", "for"):
            self.references += (got.get(name) or "").split()

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.said).split())


EMPTY = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 4"><title>Nothing</title></svg>'


def made(styles: list, clients: list) -> dict[str, str | bytes]:
    """Every file of a site, by path, as a build writes them."""
    site = Site(sample.settings(), styles, clients)
    files: dict[str, str | bytes] = {}
    summaries = {}
    for style in styles:
        for client in clients:
            draft = sample.draft(client, style)
            folder = draft_path(style.slug, client.slug).removesuffix("index.html")
            files[f"{folder}index.html"] = sample.page(
                site, draft, [Download("print", "Print on A4", "draft-a4.pdf", 12, "true scale")]
            )
            files[f"{folder}{PICTURE}"] = draft_picture(draft)
            files[f"{folder}draft.svg"] = files[f"{folder}draft-a4.pdf"] = b""
            files[f"{folder}{OUTLINE}"] = outline_script(
                draft, [(e.key, sample.draft(e.client, style)) for e in earlier(client, style)]
            )
            summaries[style.slug, client.slug] = sample.summary(site, draft)
    for style in styles:
        files[style_path(style.slug)] = site.style_page(style, summaries)
        files[compare_path(style.slug)] = site.compare_page(style, summaries)
        # The sample is drafted by hand, so what its choices change can't be.
        files |= {choice_picture_path(style.slug, c): EMPTY for c in style.choices if values_drawn(c)}
    for client in clients:
        files[client_path(client.slug)] = site.client_page(client, summaries)
        files[f"clients/{client.slug}/card/index.html"] = site.card_page(client)
        files[f"clients/{client.slug}/add/index.html"] = site.adding_page(client)
    return {
        **files,
        **site.home_pages(summaries),
        **site.measuring_pages(),
        **site.handbook_pages(),
        **site.assets(),
    }


PEOPLE = [
    sample.person(),
    sample.person("Ọmọlará Àjíbọ́yẹ̀", "omolara", Unit.IN),
    sample.person("Đặng Thùy Miên", "mien", without=("shoulder_length",)),
    sample.person("ندى", "nada", kind="girl"),
]


@pytest.fixture(scope="module")
def site() -> dict[str, str | bytes]:
    return made([sample.style()], PEOPLE)


@pytest.fixture(scope="module")
def pages(site: dict[str, str | bytes]) -> dict[str, Page]:
    return {
        path: Page(text) for path, text in site.items() if path.endswith(".html") and isinstance(text, str)
    }


def test_every_page_is_well_formed(pages: dict[str, Page]) -> None:
    assert len(pages) > 15
    assert {path: page.faults for path, page in pages.items() if page.faults} == {}


def test_pages_of_a_client_stand_under_clients(site: dict[str, str | bytes]) -> None:
    for path in (client_path("amaka"), "clients/amaka/card/index.html"):
        assert '<a href="' + "../" * path.count(
            "/"
        ) + 'index.html#clients" aria-current="true">Clients</a>' in str(site[path])


def warned_page(*findings: Finding) -> str:
    """The page of a draft with these warnings, as words between blanks."""
    style = sample.style()
    client = sample.person()
    site = Site(sample.settings(), [style], [client])
    return " ".join(sample.page(site, replace(sample.draft(client, style), findings=findings)).split())


def test_who_sews_reads_a_note_of_the_style_and_no_rows_of_its_file() -> None:
    place = Place("styles/plain-bodice.md", 31, 3)
    row = 'note "Check the back at the fitting" when back_width is more than 40 cm'
    note = Finding("note", "Check the back at the fitting", place, "", Severity.WARNING, row)
    told = warned_page(note)
    assert '<li class="warning"> <p><strong>Warning:</strong> Check the back at the fitting</p> </li>' in told
    assert "when back_width" not in told and "line 31" not in told
    assert "Read the warning below." in told
    # Any other warning is put right in the file: where it is, but not the row. Of a mistake all is there.
    other = replace(note, code="unused", message="Nothing uses this")
    told = warned_page(note, other)
    assert told.count("plain-bodice.md, line 31, column 3") == 1 and "when back_width" not in told
    assert "Read the 2 warnings below." in told
    told = warned_page(replace(other, severity=Severity.ERROR))
    assert "line 31, column 3" in told and "when back_width is more than 40 cm ^" in told


def test_an_order_finds_styles_by_the_alphabet() -> None:
    """Kinds of garment, one style each, would be as many headings as styles."""
    named = {
        "b": ("Apron", "workwear"),
        "a": ("Überrock", "coat"),
        "c": ("skirt 10", "skirt"),
        "d": ("Skirt 2", "skirt"),
    }
    styles = [replace(sample.style(), slug=s, title=t, garment=g, digest=s) for s, (t, g) in named.items()]
    order = str(Site(sample.settings(), styles, [sample.person()]).home_pages({})["orders/new/index.html"])
    offered = re.findall(r'<option value="[a-d]">([^<]*)', order)
    assert offered == ["Apron", "Skirt 2", "skirt 10", "Überrock"]


def test_ids_are_unique_and_references_lead_somewhere(pages: dict[str, Page]) -> None:
    for path, page in pages.items():
        assert len(page.ids) == len(set(page.ids)), path
        assert set(page.references) <= set(page.ids), path


def test_links_are_relative_and_lead_to_a_file(site: dict[str, str | bytes], pages: dict[str, Page]) -> None:
    followed = 0
    for path, page in pages.items():
        for tag, _, link in page.links:
            assert not re.match(r"[a-z]+:|/", link), f"{path}: {link}"
            bare, fragment = urldefrag(link)
            target = resolved(path, unquote(bare))
            if tag == "use" or not bare:
                assert fragment in page.ids, f"{path}: #{fragment}"
                continue
            assert target in site, f"{path} links to {link}"
            assert not link.endswith("/"), f"{path}: {link} names no file"
            if target.endswith("/add/index.html") and "=" in fragment:  # what its form begins with
                asked = parse_qsl(fragment, strict_parsing=True)
                assert all(f'value="{value}"' in str(site[target]) for _, value in asked), f"{path}: {link}"
            elif "=" in fragment:
                # What a form is to begin with; its script reads it.
                assert "data-page" in str(site[target]), f"{path} links to {link}"
            elif fragment:
                assert fragment in pages[target].ids, f"{path} links to {link}"
            followed += 1
    assert followed > 300


def resolved(page: str, link: str) -> str:
    steps = page.split("/")[:-1]
    for step in link.split("/"):
        if step == "..":
            steps.pop()
        elif step not in ("", "."):
            steps.append(step)
    return "/".join(steps)


def test_every_page_has_its_landmarks_and_a_policy(pages: dict[str, Page]) -> None:
    for path, page in pages.items():
        tags = [tag for tag, _ in page.elements]
        assert tags.count("main") == 1 and tags.count("h1") == 1 and "nav" in tags, path
        metas = [a for tag, a in page.elements if tag == "meta"]
        policy = next(a["content"] for a in metas if a.get("http-equiv") == "Content-Security-Policy")
        assert policy is not None and "default-src 'none'" in policy
        assert "unsafe" not in policy and "http" not in policy


def test_nothing_runs_or_is_styled_from_inside_a_page(pages: dict[str, Page]) -> None:
    for path, page in pages.items():
        for tag, attributes in page.elements:
            assert not any(name.startswith("on") or name == "style" for name in attributes), (
                f"{path}: <{tag}>"
            )
            assert tag != "style" and (tag != "script" or attributes.get("src")), path


def test_the_draft_page_tells_everything_without_script(pages: dict[str, Page]) -> None:
    page = pages["styles/plain-bodice/amaka/index.html"]
    headings = [heading for heading, _, _ in sample.STEPS]
    found = [a.get("data-name") for tag, a in page.elements if tag == "li" and a.get("data-name")]
    assert found == headings
    for words in (
        "Fit to cut in calico: all 3 checks pass",
        "Bodice back",
        "Cut 1 on the fold",
        "12 pages",
        "96.5 cm ÷ 6 + 1 1/2 in",
        "the armhole is longer than the side seam",
        "Bodice back, side",
        "room enough for woven cloth",
        "firm cotton, 140 cm wide",
        "35 cm zip",
        "Sew the darts and press them to the centre.",
        "Left shoulder lower by",
        "Measure the printed square",
    ):
        assert words in page.text, words


def test_prose_has_the_clients_own_figures(site: dict[str, str | bytes]) -> None:
    # 96.5 cm / 6 + 1 1/2 in = 198.9 mm, reckoned by hand; 7 13/16 in is 198.4 mm, the nearest sixteenth.
    assert '<span class="figure-value">19.9 cm</span>' in str(site["styles/plain-bodice/amaka/index.html"])
    assert '<span class="figure-value">7 13/16 in</span>' in str(
        site["styles/plain-bodice/omolara/index.html"]
    )
    for path, text in site.items():
        assert path.endswith((".woff2", ".ttf")) or "\ue000" not in str(text), path


def test_the_style_page_shows_formulas_where_there_is_no_client(pages: dict[str, Page]) -> None:
    assert "Depth scye depth of bust." in pages["styles/plain-bodice/index.html"].text


def test_a_missing_measurement_is_named_and_explained(pages: dict[str, Page]) -> None:
    text = pages["styles/plain-bodice/mien/index.html"].text
    assert "Not drafted yet: a measurement is missing" in text
    assert "Đặng Thùy Miên needs shoulder length." in text
    from catalogue.people import REGISTER

    assert REGISTER["shoulder_length"].how in text
    assert "Missing: shoulder length" in pages["styles/plain-bodice/index.html"].text


def test_children_s_wear_has_its_own_cautions() -> None:
    site = Site(sample.settings(), [sample.style()], PEOPLE)
    child, woman = (Page(sample.page(site, sample.draft(PEOPLE[n]))).text for n in (3, 0))
    for words in ("cords", "catch fire", "small parts", "Local rules"):
        assert words in child and words not in woman


def test_what_fails_stands_at_the_top() -> None:
    draft = sample.draft()
    broken = replace(
        draft,
        checks=(Check("the sleeve cap is neither flat nor too high", False, "9 cm", Place("s.md")),),
        seams=(
            Seam("back.side", "back.armhole", 210.0, 190.0, 20.0, False, "21 cm and 19 cm", Place("s.md")),
        ),
    )
    site = Site(sample.settings(), [draft.style], [draft.client])
    page = sample.page(site, broken)
    top = page[: page.index('id="steps"')]
    assert "2 checks of 3 fail" in top
    assert "Bodice back, side and Bodice back, armhole do not match: 21 cm and 19 cm" in top
    assert "the sleeve cap is neither flat nor too high: 9 cm" in top
    assert sample.summary(site, broken)["state"] == "failing"
    assert sample.summary(site, draft)["state"] == "ready"


def test_a_mistake_is_shown_with_its_place_and_the_drawing_so_far() -> None:
    draft = sample.draft()
    finding = Finding(
        "unknown-name",
        "“tipp” is not known.",
        Place("styles/x.md", 12, 8),
        "Did you mean “tip”?",
        source="a = tipp",
    )
    stopped = replace(
        draft, findings=(finding,), steps=draft.steps[:4], pieces={}, checks=(), seams=(), finished=()
    )
    page = Page(sample.page(Site(sample.settings(), [draft.style], [draft.client]), stopped))
    assert "The draft could not be finished" in page.text
    assert "styles/x.md, line 12, column 8" in page.text and "Did you mean “tip”?" in page.text
    assert "as it was after step 4" in page.text
    assert [a["data-name"] for t, a in page.elements if a.get("data-name")] == [
        h for h, _, _ in sample.STEPS[:4]
    ]


HOSTILE = "\"><script>alert(1)</script><img src=x onerror=alert(2)>'&{{7*7}}{% x %}"


def test_hostile_words_stay_words_everywhere() -> None:
    from catalogue.pattern import Cut
    from catalogue.studio.style import Choice

    client = replace(
        sample.person(HOSTILE, notes=f"# {HOSTILE}\n\n[a](javascript:alert(1)) {HOSTILE}"), lang="en"
    )
    style = sample.style()
    style = replace(
        style,
        title=HOSTILE,
        garment=HOSTILE,
        audience=("women", HOSTILE),
        summary=HOSTILE,
        tags=(HOSTILE,),
        cloth=((HOSTILE, HOSTILE),),
        notions=(HOSTILE,),
        sources=(HOSTILE,),
        choices=(Choice(HOSTILE, HOSTILE, HOSTILE, HOSTILE, (HOSTILE,), HOSTILE),),
        findings=(Finding("x", HOSTILE, Place(HOSTILE), HOSTILE, source=HOSTILE),),
    )
    draft = sample.draft(client, style)
    piece = replace(draft.pieces["back"], title=HOSTILE, cut=Cut(1, cloth=HOSTILE))
    draft = replace(
        draft,
        pieces={"back": piece},
        items=tuple(
            replace(i, name=HOSTILE, shape=piece if i.kind == "piece" else i.shape) for i in draft.items
        ),
        steps=tuple(replace(s, heading=HOSTILE, section=HOSTILE, operations=(HOSTILE,)) for s in draft.steps),
        checks=(Check(HOSTILE, False, HOSTILE, Place(HOSTILE)),),
        rendered=dict.fromkeys(range(5), HOSTILE),
        choices={HOSTILE: HOSTILE},
        findings=style.findings,
    )
    site = Site(replace(sample.settings(), name=HOSTILE, strapline=HOSTILE), [style], [client])
    summaries = {(style.slug, client.slug): sample.summary(site, draft)}
    pages = {
        "draft": sample.page(site, draft, [Download("print", HOSTILE, "x", 1, HOSTILE)]),
        "style": site.style_page(style, summaries),
        "client": site.client_page(client, summaries),
        "card": site.card_page(client),
        "adding": site.adding_page(client),
        "measuring": site.measuring_pages()["measuring/index.html"],
        **site.home_pages(summaries, style.findings),
    }
    for name, text in pages.items():
        if name.endswith(".js"):
            data = json.loads(text.removeprefix("window.catalogueData=").rstrip(";\n"))
            assert data["styles"][0]["title"] == HOSTILE
            continue
        page = Page(text)
        assert page.faults == [], name
        scripts = [a for tag, a in page.elements if tag == "script"]
        assert all(set(a) <= {"src", "defer"} and "assets/" in (a["src"] or "") for a in scripts), name
        assert not any(a.get("src") == "x" or "onerror" in a for _, a in page.elements), name
        assert not any(str(a.get("href", "")).startswith("javascript:") for _, a in page.elements), name
        assert "49" not in re.findall(r"&{{(.*?)}}", text), name
    picture = draft_picture(draft)
    assert "<script" not in picture and picture.count("<svg") == 1


def test_a_page_of_twenty_steps_stays_small() -> None:
    draft = sample.draft(steps=20, of=sample.style(20))
    page = sample.page(Site(sample.settings(), [draft.style], [draft.client]), draft)
    assert page.count('class="step') >= 20
    assert len(page.encode()) < 400_000  # the limit set for the catalogue; measured about 70 KB


def test_geometry_is_written_once_and_pointed_at() -> None:
    draft = sample.draft()
    page = Page(sample.page(Site(sample.settings(), [draft.style], [draft.client]), draft))
    inside = [a["id"] for tag, a in page.elements if tag in ("path", "circle") and a.get("id")]
    assert len(inside) == len(set(inside)) == len(draft.items) - 1  # the piece is a group
    uses = [a["href"] for tag, a in page.elements if tag == "use"]
    assert len(uses) > 3 * len(inside)


def test_a_studio_s_own_template_comes_first(tmp_path) -> None:
    own = tmp_path / "site_template"
    own.mkdir()
    (own / "measuring.html").write_text(
        "{% extends 'base.html' %}{% block title %}T{% endblock %}"
        "{% block content %}<h1>Our way</h1>{% endblock %}",
        encoding="utf-8",
    )
    (own / "catalogue.css").write_text("body{}", encoding="utf-8")
    site = Site(sample.settings(), [], [], tmp_path)
    assert "Our way" in site.measuring_pages()["measuring/index.html"]
    assert site.assets()["assets/catalogue.css"] == b"body{}"
    assert "Handbook" in site.handbook_pages()["handbook/index.html"]


def test_an_empty_studio_has_whole_pages() -> None:
    pages = Site(sample.settings(), [], []).home_pages({})
    for path in ("index.html", "flip/index.html"):
        assert Page(pages[path]).faults == []
    assert (
        "There are no styles yet" in pages["index.html"] and "There are no clients yet" in pages["index.html"]
    )


def test_pages_are_the_same_each_time() -> None:
    assert made([sample.style()], PEOPLE[:1]) == made([sample.style()], PEOPLE[:1])


def test_fonts_are_shipped_with_their_licences() -> None:
    assets = Site(sample.settings(), [], []).assets()
    fonts = [p for p in assets if p.endswith(".woff2")]
    assert len(fonts) >= 2 and sum(len(assets[p]) for p in fonts) < 250_000
    licences = b" ".join(assets[p] for p in assets if p.endswith("LICENCE.txt"))
    assert licences.count(b"SIL OPEN FONT LICENSE Version 1.1") == 2
    sheet = assets["assets/catalogue.css"].decode()
    for name in re.findall(r'url\("([^"]+)"\)', sheet):
        assert f"assets/{name}" in assets


def test_the_first_page_calls_a_draft_ready_only_when_its_checks_hold() -> None:
    people = [sample.person(), sample.person("B", "b")]
    for states, said, counts in (
        (("ready", "failing"), "Ready for 1 of 2 clients", ["1 of 1", "0 of 1"]),
        (("failing", "failing"), "Ready for 0 of 2 clients", ["0 of 1", "0 of 1"]),
    ):
        told = {(sample.style().slug, p.slug): {"state": s} for p, s in zip(people, states, strict=True)}
        page = Site(sample.settings(), [sample.style()], people).home_pages(told)["index.html"]
        assert said in page
        assert re.findall(r'data-label="Styles ready">([^<]*)<', page) == counts
    alone = Site(sample.settings(), [sample.style()], people[:1])
    told = {(sample.style().slug, people[0].slug): {"state": "failing"}}
    assert (
        "A check fails" in alone.home_pages(told)["index.html"]
        and "Waits for" not in alone.home_pages(told)["index.html"]
    )
