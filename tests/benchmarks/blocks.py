"""How often blocks are drafted where sixty styles are cut from six: `python -m tests.benchmarks.blocks [CLIENTS]`.

Each of the styles takes pieces from all six blocks, so without sharing a client's blocks are drafted 360 times.
"""

from __future__ import annotations

import sys
import time

from catalogue.building.pool import Pool
from catalogue.drafting import draft_style
from catalogue.drafting.block_drafts import BLOCK_DRAFTS
from catalogue.people import Client
from catalogue.studio.joining import joined
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style
from tests.drafting.people_and_styles import person

BLOCKS, STYLES = 6, 60
LINES = """
quarter = hip_girth / 4 + 1 cm
top     = start
hem     = 60 cm down from top
side    = quarter right from hem
mid     = {n} cm right from (midway side to top)
edge    = curve side leaving up, mid, top arriving left
piece part{n} "Part", cut 1
  outline left: top to hem
          hem: hem to side
          side: side to top along edge
"""


def _style(slug: str, front: str, lines: str) -> Style:
    text = f"---\ntitle: {slug}\n{front}---\n\n```draft\n{lines}\n```\n"
    return style_from(text.encode(), slug, f"styles/{slug}.md")


def styles() -> tuple[Style, ...]:
    blocks = [_style(f"block{n}", "", LINES.format(n=n)) for n in range(1, BLOCKS + 1)]
    front = "cut from:\n" + "".join(f"  b{n}: block{n}\n" for n in range(1, BLOCKS + 1))
    takes = "\n".join(f"take part{n} from b{n}" for n in range(1, BLOCKS + 1))
    cut = [_style(f"style{n}", front, f"{takes}\nroom = {n} mm") for n in range(STYLES)]
    return joined([*cut, *blocks])[:STYLES]


CUT = styles()


def draft(task: tuple[Client, int]) -> int:
    """Draft a style for a client; how many blocks had to be drafted for it."""
    client, number = task
    before = BLOCK_DRAFTS.drafted
    made = draft_style(CUT[number], client, Settings())
    assert made.pieces
    assert made.ok
    return BLOCK_DRAFTS.drafted - before


def main(count: int, jobs: int) -> int:
    """Print the count and give it back."""
    clients = []
    for n in range(count):
        one = person(hip_girth=f"{90 + n / 10:g} cm")
        clients.append(Client(f"c{n}", f"clients/c{n}.md", f"C{n}", measurements=one.measurements))
    tasks = [(client, number) for client in clients for number in range(STYLES)]
    begun = time.perf_counter()
    with Pool(draft, jobs) as pool:
        drafted = sum(outcome.answer or 0 for outcome in pool.run(tasks, lambda task: task[0].slug))
    spent = time.perf_counter() - begun
    each = 1000 * spent / len(tasks)
    print(
        f"{len(tasks)} drafts by {jobs} processes: {drafted} blocks drafted, {spent:.1f} s, {each:.1f} ms a draft"
    )
    return drafted


def unshared(count: int) -> None:
    """Print what a draft takes when its blocks are drafted for it alone, and when they are at hand."""
    one = person(hip_girth="98 cm")
    for what, kept in (("each its own", False), ("at hand", True)):
        begun = time.perf_counter()
        for number in range(count):
            if not kept:
                BLOCK_DRAFTS.clear()
            draft((one, number % STYLES))
        spent = 1000 * (time.perf_counter() - begun) / count
        print(f"blocks {what}: {spent:.1f} ms a draft, {BLOCKS} blocks each")


if __name__ == "__main__":
    people = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    main(people, 2)
    unshared(300)
