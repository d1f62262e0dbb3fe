"""How long a draft takes: python -m tests.benchmarks.draft [--profile] [--times N]

The floor is what the same amount of drawing cost without a language: 100 points, 40 curves and 6 parallel lines by the
geometry alone, 5.6 ms on one core (own measurement, Python 3.11). Aim: within twice the floor; alarm at three times.
"""

from __future__ import annotations

import argparse
import cProfile
import pstats
import statistics
import time
from pathlib import Path

from catalogue.drafting.drafter import draft_style
from catalogue.people import Client
from catalogue.studio.joining import joined
from catalogue.studio.reading import read_style
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style
from catalogue.studio.suiting import suits
from tests.demo import demo_clients

ROOT = Path(__file__).parents[2]
FLOOR_MS = 5.6


def pairs() -> list[tuple[Style, Client]]:
    styles = joined(read_style(p, ROOT) for p in sorted((ROOT / "styles").glob("*.md")))
    clients = demo_clients()
    return [(s, c) for s in styles for c in clients if suits(s, c)]


def milliseconds(style: Style, client: Client, times: int) -> list[float]:
    """How long each of some warm drafts of the pair takes, in processor time."""
    draft_style(style, client, Settings())
    taken = []
    for _ in range(times):
        began = time.process_time()
        draft_style(style, client, Settings())
        taken.append(1000 * (time.process_time() - began))
    return taken


def main() -> None:
    parser = argparse.ArgumentParser(description="Time the drafts of the demo studio.")
    parser.add_argument("--times", type=int, default=15, help="drafts of each pair")
    parser.add_argument("--profile", action="store_true", help="where the time goes, too")
    asked = parser.parse_args()
    by_style: dict[str, list[float]] = {}
    for style, client in pairs():
        by_style.setdefault(style.slug, []).extend(milliseconds(style, client, asked.times))
    for slug, taken in by_style.items():
        middle = statistics.median(taken)
        print(
            f"{slug:16} median {middle:5.1f} ms  best {min(taken):5.1f} ms  "
            f"{middle / FLOOR_MS:.1f} times the floor of {FLOOR_MS} ms"
        )
    if asked.profile:
        profile = cProfile.Profile()
        made = pairs()
        profile.enable()
        for style, client in made:
            draft_style(style, client, Settings())
        profile.disable()
        pstats.Stats(profile).sort_stats("tottime").print_stats(30)
        pstats.Stats(profile).sort_stats("cumtime").print_stats(60)


if __name__ == "__main__":
    main()
