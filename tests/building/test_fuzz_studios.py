"""Whole studios spoilt at random, put through the commands: whatever is in the files, what `sound` asks for holds.

    python -m tests.building.test_fuzz_studios FIRST COUNT

tries more of them than a run of the tests has time for.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from catalogue.starter import make_studio
from tests.building.odd_studio import CLIENT, INCHES, STYLE, captured, no_more_memory_than
from tests.building.sound import Printed, run
from tests.building.test_rooms import SECOND
from tests.building.test_sized import TABLE
from tests.demo import CLIENT_FILES
from tests.extent import examples
from tests.studio.spoiling import mislead, spoil

ROOT = Path(__file__).parents[2]
DEMO_CLIENTS = tuple(p.read_text(encoding="utf-8") for p in CLIENT_FILES)
TEMPLATES = tuple(
    p.relative_to(ROOT / "site_template").as_posix() for p in sorted((ROOT / "site_template").rglob("*.html"))
)
DEMO_SIZES = (ROOT / "clients/sizes" / "house-sizes.md").read_text(encoding="utf-8")
SETTINGS = (ROOT / "site_template" / "studio.toml").read_text(encoding="utf-8")
HARMLESS = "<script>alert(1)</script> \"' & \u202e ليلى 陈 😀 {waist_girth} {{ 7*7 }} ]]> javascript:alert(1) ../../x"


def spoilt_style(random: Random) -> tuple[str, str]:
    text = random.choice([STYLE, SECOND])
    way = random.choice([spoil, spoil, mislead, _with_words])
    return f"styles/{_name(random)}.md", way(text, random, random.choice([1, 2, 5]))


def spoilt_client(random: Random) -> tuple[str, str]:
    text = random.choice([CLIENT, INCHES, *DEMO_CLIENTS])
    way = random.choice([spoil, spoil, _with_words])
    return f"clients/{_name(random)}.md", way(text, random, random.choice([1, 2, 5]))


def spoilt_sizes(random: Random) -> tuple[str, str]:
    way = random.choice([spoil, spoil, _with_words])
    return f"clients/sizes/{_name(random)}.md", way(
        random.choice([TABLE, DEMO_SIZES]), random, random.choice([1, 2, 5])
    )


def spoilt_settings(random: Random) -> tuple[str, str]:
    return "site_template/studio.toml", spoil(SETTINGS, random, random.choice([1, 1, 3]))


def spoilt_template(random: Random) -> tuple[str, str]:
    name = random.choice(TEMPLATES)
    text = (ROOT / "site_template" / name).read_text(encoding="utf-8")
    return f"site_template/{name}", spoil(text, random, random.choice([1, 1, 3]))


def _with_words(text: str, random: Random, times: int) -> str:
    """The text with hostile words put in at the ends of lines, and so into values and prose."""
    rows = text.split("\n")
    for _ in range(times):
        at = random.randrange(len(rows))
        start = random.randrange(len(HARMLESS))
        rows[at] += HARMLESS[start : start + random.randrange(30)]
    return "\n".join(rows)


def _name(random: Random) -> str:
    return random.choice(
        ["first-skirt", "first-client", "a", "B", "b", "CON", "..a", "é", "x" * 200, "a b", "<b>", "ليلى"]
    )


SPOILERS: tuple[Callable[[Random], tuple[str, str]], ...] = (
    spoilt_style,
    spoilt_style,
    spoilt_client,
    spoilt_client,
    spoilt_sizes,
    spoilt_settings,
    spoilt_template,
)


def spoil_studio(studio: Path, random: Random) -> list[str]:
    """Make a studio with one to four things wrong in it. Returns the files."""
    make_studio(studio)
    files = []
    for _ in range(random.randint(1, 4)):
        file, text = random.choice(SPOILERS)(random)
        data = text.encode(random.choice(["utf-8"] * 8 + ["utf-8-sig", "utf-16", "latin-1"]), "replace")
        if random.random() < 0.1:
            at = random.randrange(len(data) + 1)
            data = data[:at] + random.randbytes(random.randrange(1, 5)) + data[at:]
        path = studio / file
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
        files.append(file)
    return files


def try_one(seed: int, folder: Path, capsys: Printed) -> tuple[list[str], int, float]:
    """Spoil a studio and look at what comes of it; its files, the status, and how long it took."""
    files = spoil_studio(folder / "studio", Random(seed))
    began = time.monotonic()
    own = any(file.endswith(".html") for file in files)
    told = run(folder / "studio", folder / "site", capsys, look_at_pages=not own)
    return files, told.status, time.monotonic() - began


@settings(
    max_examples=examples(10),
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(seed=st.integers(0, 2**32))
def test_a_spoilt_studio(
    seed: int, tmp_path_factory: pytest.TempPathFactory, capsys: pytest.CaptureFixture[str]
) -> None:
    files, status, _ = try_one(seed, tmp_path_factory.mktemp("spoilt"), capsys)
    assert files and status in (0, 1)


def test_spoiling_spoils(tmp_path: Path) -> None:
    """Most of these studios have something wrong in them, in files of every kind."""
    kinds, changed = set(), 0
    for seed in range(40):
        files = spoil_studio(tmp_path / str(seed), Random(seed))
        kinds |= {file if file.endswith("toml") else file.rpartition("/")[0] for file in files}
        changed += any((tmp_path / str(seed) / f).read_bytes() != STYLE.encode() for f in files)
    templates = {"site_template", "site_template/handbook", "site_template/studio.toml"}
    assert kinds == {"styles", "clients", "clients/sizes", *templates}
    assert changed == 40


def main() -> None:
    import tempfile
    from collections import Counter

    no_more_memory_than(600_000_000)
    first, count = int(sys.argv[1]), int(sys.argv[2])
    statuses: Counter[int] = Counter()
    slowest, wrong = (0.0, 0), []
    for seed in range(first, first + count):
        with tempfile.TemporaryDirectory() as folder, captured() as printed:
            try:
                _, status, seconds = try_one(seed, Path(folder), printed)
                statuses[status] += 1
                slowest = max(slowest, (seconds, seed))
            except Exception as error:
                wrong.append((seed, f"{type(error).__name__}: {error}"[:1500]))
    print(f"{count} studios from {first}: {dict(statuses)}; slowest {slowest[0]:.1f} s (seed {slowest[1]})")
    for seed, told in wrong:
        print(f"--- {seed}: {told}")


if __name__ == "__main__":
    main()
