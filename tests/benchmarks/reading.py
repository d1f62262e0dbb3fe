"""How long a line of drafting takes to read: python -m tests.benchmarks.reading

The lines of the handbook and of the demo's styles, by the tables followed in one loop (`language/quick.py`) and by the
parsing library, in microseconds of a processor; then each style of the demo, read for the first time.
"""

from __future__ import annotations

import time
from pathlib import Path

from lark.exceptions import UnexpectedInput

from catalogue.language.parser import grammar
from catalogue.language.quick import tree_of
from catalogue.studio.reading import read_style
from tests.language.test_quick import lines

ROOT = Path(__file__).parents[2]


def main() -> None:
    began = time.process_time()
    lark = grammar()
    print(f"the tables read: {1000 * (time.process_time() - began):.0f} ms")
    for path in sorted((ROOT / "styles").glob("*.md")):
        began = time.process_time()
        style = read_style(path, ROOT)
        print(f"  {style.slug:20} {1000 * (time.process_time() - began):5.0f} ms, {len(style.lines)} lines")
    taken = []
    for line in lines():
        try:
            lark.parse(line, start="statement")
            taken.append(line)
        except UnexpectedInput:
            continue
    ways = {
        "in one loop": lambda line: tree_of(line, "statement", lark),
        "by the library": lambda line: lark.parse(line, start="statement"),
    }
    for name, parse in ways.items():
        times = []
        for _ in range(3):
            began = time.process_time()
            for line in taken:
                parse(line)
            times.append(time.process_time() - began)
        print(f"{name}: {1e6 * min(times) / len(taken):.0f} µs a line, of {len(taken)}")


if __name__ == "__main__":
    main()
