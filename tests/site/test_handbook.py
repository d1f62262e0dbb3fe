"""What the handbook says is so."""

import html
import json
import re

import pytest

from catalogue.drafting import draft_style
from catalogue.drafting.record import draft_record
from catalogue.handbook import entries, versions
from catalogue.handbook.examples import neutral_client
from catalogue.people import read_client, read_sizes
from catalogue.people.reading import ClientReader
from catalogue.people.size_reading import SizeReader
from catalogue.site.handbook import CHAPTERS
from catalogue.site.pages import Site
from catalogue.studio.reading import KEYS as STYLE_KEYS
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings, read_settings, setting_names
from tests.site import sample


@pytest.fixture(scope="module")
def pages() -> dict[str, str]:
    return Site(sample.settings(), [], []).handbook_pages()


def chapter(pages: dict[str, str], slug: str) -> str:
    return pages[f"handbook/{slug}/index.html"]


def code_of(page: str, kind: str = "") -> list[str]:
    found = re.findall(rf'<pre tabindex="0"{kind}><code>(.*?)</code></pre>', page, re.S)
    return [html.unescape(code) for code in found]


def test_every_chapter_has_a_page(pages: dict[str, str]) -> None:
    assert set(pages) == {"handbook/index.html", *(f"handbook/{c.slug}/index.html" for c in CHAPTERS)}


def test_the_first_style_drafts_as_it_is_written(pages: dict[str, str]) -> None:
    lesson = code_of(chapter(pages, "first-style"), ' class="lesson"')
    assert len(lesson) == 4
    client = neutral_client()
    person = sample.person()
    from dataclasses import replace

    measured = dict(client.measurements) | {
        "waist_to_hip": replace(person.measurements["bust_girth"], mm=205.0)
    }
    client = replace(client, measurements=measured)
    for count in range(1, len(lesson) + 1):  # it works after every lesson, not only at the end
        style = style_from("\n".join(lesson[:count]).encode(), "plain-skirt", "styles/plain-skirt.md")
        draft = draft_style(style, client, Settings())
        assert [str(f) for f in draft.findings if f.is_error] == []
        assert len(draft.steps) == count - 1
    assert list(draft.pieces) == ["front"] and draft.ok and len(draft.checks) == 1


def test_every_word_of_the_language_stands_there_with_its_example(pages: dict[str, str]) -> None:
    page = chapter(pages, "language")
    assert page.count('<article class="entry"') == len(entries())
    for entry in entries():
        assert f'id="word-{entry.word.replace("_", "-")}"' in page
        assert html.escape(entry.example.strip().split("\n")[0], quote=False) in html.unescape(page).replace(
            "&", "&amp;"
        ).replace("<", "&lt;").replace(">", "&gt;")
    ids = re.findall(r'\bid="([^"]+)"', page)
    assert len(ids) == len(set(ids))


def test_the_printed_draft_stands_there_with_the_program_s_own_figures(pages: dict[str, str]) -> None:
    from catalogue.handbook.printed_draft import FRONT_MATTER, STAGES, printed_draft

    page = chapter(pages, "from-a-printed-draft")
    lesson = code_of(page, ' class="lesson"')
    assert lesson == [FRONT_MATTER.rstrip("\n") + "\n", *(stage.code for stage in STAGES)]
    assert page.count('role="group" aria-label="Drawing') == len(STAGES)
    shown = [w.text for step in printed_draft().steps for w in step.workings]
    assert len(shown) >= 10
    assert all(f'<td class="num">{html.escape(text)}</td>' in page for text in shown)
    assert "Lesson 106" in page and "public domain" in page


def test_a_word_is_found_by_what_people_call_it(pages: dict[str, str]) -> None:
    page = chapter(pages, "language")
    called = dict(re.findall(r'id="word-([a-z-]+)" data-called="([^"]+)"', page))
    assert len(called) == len(entries())
    assert "intersection" in called["crossing"] and "facing" in called["trace"]


def test_the_client_example_is_read_without_a_complaint(pages: dict[str, str], tmp_path) -> None:
    example, *_ = code_of(chapter(pages, "clients"))
    (tmp_path / "ottilie.md").write_text(example, encoding="utf-8")
    client = read_client(tmp_path / "ottilie.md", tmp_path)
    assert [str(f) for f in client.findings if f.is_error] == []
    assert client.measurements["bust_girth"].mm == pytest.approx(38.5 * 25.4)
    assert len(client.sets) == 2 and client.garments == ("everyday-skirt",)


def test_the_example_of_sizes_is_read_without_a_complaint(pages: dict[str, str], tmp_path) -> None:
    example, _ = code_of(chapter(pages, "sizes"))
    (tmp_path / "counter-sizes.md").write_text(example, encoding="utf-8")
    table = read_sizes(tmp_path / "counter-sizes.md", tmp_path)
    assert table.findings == ()
    assert [s.name for s in table.sizes] == ["8", "10", "12", "14"]
    assert table.sizes[0].measurements["height"].mm == 1660
    assert table.sizes[3].measurements["hip_girth"].mm == pytest.approx(39.25 * 25.4)


def test_every_key_is_explained(pages: dict[str, str]) -> None:
    for slug, keys in (
        ("clients", ClientReader.keys),
        ("sizes", SizeReader.keys),
        ("style-files", STYLE_KEYS),
        ("settings", setting_names()),
    ):
        page = chapter(pages, slug)
        told = {word for terms in re.findall(r"<dt>(.*?)</dt>", page) for word in terms.split(", ")}
        told |= set(re.findall(r"<code>(\w+)</code>", page))
        assert set(keys) <= told, set(keys) - told


def test_the_settings_example_is_read_without_a_complaint(pages: dict[str, str], tmp_path) -> None:
    (example,) = code_of(chapter(pages, "settings"))
    (tmp_path / "studio.toml").write_text(example, encoding="utf-8")
    settings = read_settings(tmp_path / "studio.toml", tmp_path)
    assert settings.findings == () and settings.papers == ("a4", "letter")
    assert settings.seam_allowance == pytest.approx(0.625 * 25.4)


def test_every_field_of_draft_json_is_described(pages: dict[str, str]) -> None:
    page = chapter(pages, "draft-json")
    told = {w for terms in re.findall(r'<th scope="row"><code>(.*?)</code>', page) for w in terms.split(", ")}
    record = json.loads(json.dumps(draft_record(sample.draft())))
    assert set(record) <= told, set(record) - told
    assert set(record["pieces"]["back"]) <= told, set(record["pieces"]["back"]) - told
    words = html.unescape(page)
    for inner in (
        record["seams"][0],
        record["checks"][0],
        record["finished"][0],
        record["steps"][0]["workings"][0],
    ):
        assert all(re.search(rf"\b{key}\b", words) for key in inner), inner
    for inner in (record["pieces"]["back"]["edges"]["side"], record["pieces"]["back"]["darts"]["waist"]):
        assert all(re.search(rf"\b{key}\b", words) for key in inner), inner


def test_the_program_in_draft_json_s_chapter_runs(
    pages: dict[str, str], tmp_path, monkeypatch, capsys
) -> None:
    code = code_of(chapter(pages, "draft-json"))[-1]
    (tmp_path / "draft.json").write_text(json.dumps(draft_record(sample.draft())), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    exec(compile(code, "example", "exec"), {})
    assert re.fullmatch(r"back \d+ cm²\n", capsys.readouterr().out)


def test_what_is_new_comes_from_one_file_and_is_linked_from_the_start(pages: dict[str, str]) -> None:
    from importlib import metadata

    page = chapter(pages, "what-is-new")
    assert 'href="what-is-new/index.html"' in pages["handbook/index.html"]
    version, text = versions()[0].name, versions()[0].text
    assert version.split()[0] == metadata.version("pattern-catalogue")
    assert f"<h2>{version}</h2>" in page
    points = [line for line in text.split("\n") if line.startswith("- ")]
    assert points and page.count("<li>") >= len(points)
    for heading in re.findall(r"^### (.+)$", text, re.MULTILINE):
        assert f"<h3>{heading}</h3>" in page
