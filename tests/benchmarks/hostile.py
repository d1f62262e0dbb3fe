"""How long styles that are made to exhaust the reader take, those that take longest first.

    python -m tests.benchmarks.hostile [COUNT]

Prints seconds of processor time and, in millions, the calls of Python functions that reading and drafting each take.
"""

from __future__ import annotations

import sys
import time

from catalogue.drafting import draft_style
from catalogue.handbook import neutral_client
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from tests.studio.hostile import styles
from tests.work import calls


def read_and_draft(text: str) -> None:
    draft_style(style_from(text.encode(), "hostile", "styles/hostile.md"), neutral_client(), Settings())


def main() -> None:
    most = int(sys.argv[1]) if sys.argv[1:] else 15
    taken = []
    for label, text in styles():
        began = time.process_time()
        read_and_draft(text)
        taken.append((time.process_time() - began, label, text))
    print("| style | s | million calls |\n|---|---|---|")
    for seconds, label, text in sorted(taken, reverse=True)[:most]:
        _, number = calls(lambda text=text: read_and_draft(text))  # type: ignore[misc]
        print(f"| {label} | {seconds:.2f} | {number / 1e6:.1f} |")
    print(f"\n{len(taken)} styles, {sum(seconds for seconds, *_ in taken):.1f} s")


if __name__ == "__main__":
    main()
