"""Pages of every structure, read by validators that know nothing of this program.

html5lib (PyPI) reads as the HTML standard says a browser must, and stops at the first thing the standard calls a parse
error. html-validate (npm registry) also knows which element may stand where, what labels and roles must have, and that
ids are used once. It is got by npm where there is one; a run that must have it (CI) fails without.

Of the demo's pages and of unusual ones those are read that between them have all that any of them is built of
(`tests.structure`). What can differ in pages of one structure is looked at in all of them by
`tests.building.test_demo`: where links lead, and that ids are used once.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import html5lib
import pytest

from catalogue.findings import Finding, Place
from catalogue.site.pages import Site
from tests.site import sample
from tests.site.test_pages import PEOPLE, made
from tests.structure import parts, representative

VALIDATOR = "html-validate@10"
# Seventy characters for a title is advice for search engines, not the standard's; ours hold a studio's own names.
RULES = {"root": True, "extends": ["html-validate:recommended"], "rules": {"long-title": "off"}}
KINDS = (
    *(
        "index.html",
        "flip/",
        "styles/*/",
        "styles/*/*/",
        "styles/*/compare/",
        "styles/*/compare/*/",
        "clients/*/",
        "clients/*/card/",
    ),
    *("measuring/", "measuring/form/", "handbook/", "handbook/language/", "handbook/first-style/"),
)


def unusual() -> dict[str, str]:
    """Pages that the demo has none of: an empty studio, a draft that broke off, one that waits, hard words."""
    draft = sample.draft()
    finding = Finding(
        "unknown-name", "“tipp” is not known.", Place("styles/x.md", 12, 8), source="a = <tipp> & b"
    )
    stopped = replace(draft, findings=(finding,), steps=draft.steps[:4], pieces={}, checks=(), seams=())
    site = Site(sample.settings(), [draft.style], [draft.client])
    pages = {f"sample/{path}": text for path, text in made([sample.style()], PEOPLE).items()}
    empty = Site(sample.settings(), [], [])
    lists = empty.home_pages({}) | empty.measuring_pages() | empty.handbook_pages()
    pages |= {f"empty/{path}": text for path, text in lists.items()}
    pages |= {
        "stopped.html": sample.page(site, stopped),
        "problems.html": site.home_pages({}, (finding,))["index.html"],
    }
    return {path: str(text) for path, text in pages.items() if path.endswith(".html")}


@pytest.fixture(scope="module")
def pages(demo_site: Path, tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    folder = tmp_path_factory.mktemp("unusual")
    for path, text in unusual().items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text, encoding="utf-8")
    for kind in KINDS:
        assert list(demo_site.glob(kind if kind.endswith("html") else f"{kind}index.html")), kind
    chosen = representative([*sorted(demo_site.rglob("*.html")), *sorted(folder.rglob("*.html"))])
    # These are the only ones of their kind, and what they hold in words is theirs alone.
    return list(dict.fromkeys([*chosen, folder / "stopped.html", folder / "problems.html"]))


def test_pages_are_read_without_a_parse_error(pages: list[Path]) -> None:
    assert len(pages) > 20
    for page in pages:
        parser = html5lib.HTMLParser(strict=True)
        try:
            parser.parse(page.read_text(encoding="utf-8"))
        except html5lib.html5parser.ParseError as error:
            line = parser.tokenizer.stream.position()[0]
            pytest.fail(f"{page}, line {line}: {error}")


def test_pages_read_have_all_that_any_page_is_built_of(tmp_path: Path) -> None:
    texts = {
        "a": '<main><p class="x">a</p><br><script>if (1 < 2) "<i>";</script><p class="x">b</p></main>',
        "b": '<main><p class="x">another</p><br><script></script></main>',
        "c": '<main><p class="x" hidden>a</p></main>',
        "d": "<main><ul><li>a</li></ul></main>",
        "e": "<main><ul><li>a</li><!-- <i> --></ul><p>a</p></main>",
    }
    for name, text in texts.items():
        (tmp_path / name).write_text(text)
    chosen = representative(tmp_path / name for name in texts)
    assert [page.name for page in chosen] == ["a", "e", "c"]
    assert ("main", "p.x") in parts(texts["a"]) and ("p.x", ("class", "hidden")) in parts(texts["c"])


def test_the_reader_of_html_does_find_faults() -> None:
    for broken in ("<p>a</b>", "<!DOCTYPE html><title>t</title><table><p>a</p></table>"):
        with pytest.raises(html5lib.html5parser.ParseError):
            html5lib.HTMLParser(strict=True).parse(broken)


def test_the_validator_finds_nothing(pages: list[Path], tmp_path: Path) -> None:
    npm = shutil.which("npm")
    if npm is None:
        if os.environ.get("CI"):
            pytest.fail("there is no npm to get the HTML validator with")
        pytest.skip("there is no npm to get the HTML validator with")
    got = subprocess.run(
        [npm, "install", "--prefix", str(tmp_path), "--no-audit", "--no-fund", "--silent", VALIDATOR],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
    )
    if got.returncode and not os.environ.get("CI"):
        pytest.skip(f"the HTML validator can't be got: {got.stderr.strip()[-200:]}")
    assert got.returncode == 0, got.stderr
    (tmp_path / ".htmlvalidate.json").write_text(json.dumps(RULES), encoding="utf-8")
    known = tmp_path / "known.html"
    known.write_text('<!DOCTYPE html><html lang="en"><head><title>t</title></head><body><p><div>a</div></p>')
    validate = [
        npm,
        "exec",
        "--prefix",
        str(tmp_path),
        "--offline",
        "--",
        "html-validate",
        "--formatter",
        f"json={tmp_path / 'told.json'}",
    ]
    rules = ["--config", str(tmp_path / ".htmlvalidate.json")]
    told = subprocess.run(
        [*validate, *rules, str(known), *map(str, pages)],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
    )
    assert told.returncode in (0, 1), told.stderr
    faults = {
        r["filePath"]: [(m["line"], m["ruleId"], m["message"]) for m in r["messages"]]
        for r in json.loads((tmp_path / "told.json").read_text(encoding="utf-8"))
    }
    assert faults.pop(str(known)), "the validator must find fault with a page that is known to be wrong"
    assert faults == {}
