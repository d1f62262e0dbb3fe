"""Spoilt style files are read and drafted without a traceback, and every finding says where it stands."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from catalogue.drafting import draft_style
from catalogue.drafting.record import draft_record
from catalogue.handbook import entries, example_source, neutral_client
from catalogue.studio.joining import joined
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from tests.demo import demo_clients
from tests.extent import examples
from tests.studio.spoiling import mislead, spoil

ROOT = Path(__file__).resolve().parents[2]
STYLES = tuple(
    (ROOT / "styles" / f"{name}.md").read_text(encoding="utf-8")
    for name in ("circle-skirt", "bodice-block", "skirt-block")
)
EXAMPLES = tuple(example_source(entry) for entry in entries())
BLOCKS = tuple(
    style_from(text.encode(), slug, f"handbook/{slug}.md")
    for slug, text in dict(block for entry in entries() for block in entry.blocks).items()
)
CLIENTS = tuple(demo_clients())


def read_and_draft(data: bytes, client) -> list[str]:
    """Codes of what is said of the style in `data`; fails when a finding is not at a place of a file."""
    style = joined([style_from(data, "spoilt", "styles/spoilt.md"), *BLOCKS])[0]
    draft = draft_style(style, client, Settings())
    draft_record(draft)
    lines = max(len(style.lines), 1, data.count(b"\n") + data.count(b"\r") + 1)
    for finding in (*style.findings, *draft.findings):
        assert finding.message
        assert finding.place is not None
        assert finding.place.file in ("styles/spoilt.md", client.file)
        if finding.place.file == "styles/spoilt.md":
            assert 1 <= finding.place.line <= lines, finding
            assert finding.place.column >= 1
        assert str(finding).startswith(f"{finding.place.file}:{finding.place.line}:{finding.place.column}: ")
    return [f.code for f in draft.findings]


@settings(max_examples=examples(30))
@given(seed=st.integers(0, 2**32), times=st.sampled_from([1, 1, 2, 4, 10]))
def test_a_spoilt_style(seed, times):
    random = Random(seed)
    text = spoil(random.choice((*STYLES, *EXAMPLES)), random, times)
    read_and_draft(text.encode("utf-8", "surrogatepass"), random.choice(CLIENTS))


@settings(max_examples=examples(30))
@given(seed=st.integers(0, 2**32), times=st.integers(1, 6))
def test_a_style_that_says_something_else(seed, times):
    random = Random(seed)
    if random.random() < 0.3:
        read_and_draft(mislead(random.choice(STYLES), random, times).encode(), random.choice(CLIENTS))
    else:
        read_and_draft(mislead(random.choice(EXAMPLES), random, times).encode(), neutral_client())


@settings(max_examples=examples(25))
@given(data=st.binary(max_size=300))
@example(b"")
@example(b"---")
@example(b"---\n---\n")
@example(b"---\ntitle: \xff\n---\n")
@example(b"---\r\ntitle: a\r\n---\r\n```draft\r\na = = 1\r\n```\r\n")
@example("---\ntitle: a\n---\n".encode("utf-16"))
@example(b"\xef\xbb\xbf---\ntitle: a\n---\n")
def test_bytes_of_any_kind(data):
    read_and_draft(data, neutral_client())


@settings(max_examples=examples(30))
@given(text=st.text(max_size=120))
def test_a_block_of_any_text(text):
    read_and_draft(
        f"---\ntitle: a\n---\n```draft\n{text}\n```\n".encode("utf-8", "surrogatepass"), neutral_client()
    )


@settings(max_examples=examples(30))
@given(text=st.text(alphabet="{}`\\ab=+-() \n#~", max_size=80))
def test_prose_of_any_braces_and_ticks(text):
    read_and_draft(f"---\ntitle: a\n---\n{text}\n".encode(), neutral_client())


def test_what_is_spoilt_was_good():
    for text in STYLES:
        style = style_from(text.encode(), "good", "styles/good.md")
        assert style.ok
        assert any(draft_style(style, client, Settings()).ok for client in CLIENTS)


@pytest.mark.parametrize("way", [spoil, mislead])
def test_spoiling_spoils(way):
    """The fuzz would prove nothing if most spoilt styles were still good, or none were ever drafted."""
    codes: set[str] = set()
    for seed in range(60):
        random = Random(seed)
        codes.update(
            read_and_draft(way(EXAMPLES[seed], random, 3).encode("utf-8", "replace"), neutral_client())
        )
    assert len(codes) >= 6, codes
