"""How long builds of small and large studios take, how much memory, and how much they write.

    python -m tests.benchmarks.builds [STYLESxCLIENTS ...] [--keep FOLDER] [--plain]

Makes studios of those sizes out of the demo's styles (each copy with a title of its own) and invented people (the
demo's women with every measurement a little different), and times the command as a whole process: a first build, one
with nothing changed, one client's measurement, one client's notes, one style and one page template changed. Memory is
the proportional share of all processes of a build together, looked at twenty times a second. Prints a table and how
the time per pair grows from the first size to the others. With `--plain` every style is the starter's skirt, so that
thousands of drafts are made in minutes and what a build does besides drafting weighs most.
"""

from __future__ import annotations

import argparse
import random
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
STYLES = tuple(ROOT / "styles" / f"{name}.md" for name in ("circle-skirt", "bodice-block", "skirt-block"))
PLAIN = (ROOT / "catalogue" / "starter" / "studio" / "styles" / "first-skirt.md",)
WOMEN = ("ines", "thuy-mien")
SIZES = ("10x10", "50x50", "60x200")


@dataclass(frozen=True)
class Taken:
    """What a build took: seconds, of them the processors' together, MB of memory, files and MB written."""

    seconds: float
    processors: float
    memory: float
    files: int
    written: float

    def row(self, pairs: int) -> str:
        """Cells of the table."""
        return (
            f"{self.seconds:.2f} | {1000 * self.seconds / pairs:.1f} | {self.processors:.2f} | {self.memory:.0f} | "
            f"{self.files} | {self.written:.1f} | {1000 * self.written / pairs:.1f}"
        )


def make_studio(
    folder: Path, styles: int, clients: int, seed: int = 1, copied: Sequence[Path] = STYLES
) -> Path:
    """A studio of that many styles, copies of those `copied`, and clients, the same every time."""
    chance = random.Random(seed)
    (folder / "styles").mkdir(parents=True)
    (folder / "clients").mkdir()
    (folder / "site_template").mkdir()
    # The demo's women are measured in ways of the demo's own too.
    shutil.copy(ROOT / "clients" / "measurements.md", folder / "clients")
    for number in range(styles):
        style = copied[number % len(copied)]
        text = style.read_text(encoding="utf-8")
        text = re.sub(r"^title: (.*)$", rf"title: \1, number {number + 1}", text, count=1, flags=re.MULTILINE)
        text = text.replace("block: yes\n", "", 1)  # each is a garment here
        (folder / "styles" / f"{style.stem}-{number + 1:03}.md").write_text(text, encoding="utf-8")
    for number in range(clients):
        (folder / "clients" / f"client-{number + 1:03}.md").write_text(
            person(number, chance), encoding="utf-8"
        )
    return folder


def person(number: int, chance: random.Random) -> str:
    """A client file: one of the demo's women, larger or smaller all over by up to 3 %; nothing is ordered or fitted."""
    text = (ROOT / "clients" / f"{WOMEN[number % len(WOMEN)]}.md").read_text(encoding="utf-8")
    front, body = text.split("\n---\n", 1)
    front = re.sub(
        r"^(choices|garments|orders|fittings|compare):.*?(?=^\S|\Z)",
        "",
        front,
        flags=re.MULTILINE | re.DOTALL,
    )
    front = re.sub(r"^name: .*$", f"name: Invented Client {number + 1}", front, flags=re.MULTILINE)
    size = chance.uniform(0.97, 1.03)

    def other(found: re.Match[str]) -> str:
        return f"{found[1]}{float(found[2]) * size:.1f}"

    front = re.sub(r"^(    [a-z -]+: )(\d+(?:\.\d+)?)(?= *$)", other, front, flags=re.MULTILINE)
    return f"{front}\n---\n{body}"


def build(studio: Path, output: Path) -> Taken:
    """Build, and see what it took."""
    before, spent = numbers(output), processor_seconds()
    began = time.perf_counter()
    command = [sys.executable, "-m", "catalogue", "build", str(studio), "--out", str(output)]
    # What it says of thousands of drafts would fill a pipe that is not read meanwhile.
    with tempfile.TemporaryFile("w+") as said:
        process = subprocess.Popen(command, cwd=ROOT, stdout=said, stderr=said)
        peak = 0.0
        while process.poll() is None:
            peak = max(peak, memory(process.pid))
            time.sleep(0.05 if time.perf_counter() - began > 1 else 0.005)
        seconds = time.perf_counter() - began
        said.seek(0)
        assert process.returncode in (0, 1), said.read()
    written = [
        size for path, (inode, size) in numbers(output).items() if before.get(path, (0, 0))[0] != inode
    ]
    return Taken(seconds, processor_seconds() - spent, peak, len(written), sum(written) / 1e6)


def processor_seconds() -> float:
    """What all processes started from here, and theirs, have spent so far."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def numbers(folder: Path) -> dict[str, tuple[int, int]]:
    """Inode and size of every file: one that was written anew has another inode."""
    return {str(p): (p.stat().st_ino, p.stat().st_size) for p in folder.rglob("*") if p.is_file()}


def memory(process: int) -> float:
    """MB that a process and its children take together, what they share counted once."""
    total, todo = 0.0, [process]
    while todo:
        number = todo.pop()
        try:
            told = Path(f"/proc/{number}/smaps_rollup").read_text()
            total += int(re.findall(r"^Pss: +(\d+)", told, re.MULTILINE)[0]) / 1000
            children = Path(f"/proc/{number}/task/{number}/children").read_text()
        except (OSError, IndexError):
            continue
        todo += [int(child) for child in children.split()]
    return total


def one_measurement(studio: Path) -> None:
    swap(
        studio / "clients" / "client-002.md",
        r"^(    hip girth: )([\d.]+)$",
        lambda m: f"{m[1]}{float(m[2]) + 0.5:.1f}",
    )


def one_note(studio: Path) -> None:
    path = studio / "clients" / "client-001.md"
    path.write_text(path.read_text(encoding="utf-8") + "\nOne more note.\n", encoding="utf-8")


def one_style(studio: Path) -> None:
    path = sorted((studio / "styles").glob("*.md"))[0]
    path.write_text(path.read_text(encoding="utf-8") + "\nOne more sentence.\n", encoding="utf-8")


def one_template(studio: Path) -> None:
    text = (ROOT / "site_template" / "draft.html").read_text(encoding="utf-8")
    changed = text.replace("{% block content %}", "{% block content %}<!-- changed -->", 1)
    assert changed != text
    (studio / "site_template" / "draft.html").write_text(changed, encoding="utf-8")


def swap(path: Path, pattern: str, new: Callable[[re.Match[str]], str]) -> None:
    text, count = re.subn(pattern, new, path.read_text(encoding="utf-8"), flags=re.MULTILINE)
    assert count, f"{pattern} is not in {path}"
    path.write_text(text, encoding="utf-8")


CHANGES: tuple[tuple[str, Callable[[Path], object]], ...] = (
    ("first build", lambda studio: None),
    ("nothing changed", lambda studio: None),
    ("one client's measurement", one_measurement),
    ("one client's notes", one_note),
    ("one style", one_style),
    ("one template", one_template),
)


def main() -> None:
    parser = argparse.ArgumentParser(description="Time builds of studios of several sizes.")
    parser.add_argument(
        "sizes", nargs="*", default=SIZES, metavar="STYLESxCLIENTS", help=f"default: {' '.join(SIZES)}"
    )
    parser.add_argument("--keep", type=Path, help="leave the studios and catalogues in this folder")
    parser.add_argument("--plain", action="store_true", help="copies of the starter's skirt alone")
    given = parser.parse_args()
    print(
        "| styles x clients | build | s | ms a pair | processor s | memory, MB | files | MB written | KB a pair |"
    )
    print("|---|---|---|---|---|---|---|---|---|")
    first: dict[str, float] = {}
    growth: list[str] = []
    for size in given.sizes:
        styles, clients = map(int, size.split("x"))
        pairs = styles * clients
        with tempfile.TemporaryDirectory() as temporary:
            folder = (given.keep or Path(temporary)) / size
            shutil.rmtree(folder, ignore_errors=True)
            studio, output = (
                make_studio(folder / "studio", styles, clients, copied=PLAIN if given.plain else STYLES),
                folder / "site",
            )
            for name, change in CHANGES:
                change(studio)
                taken = build(studio, output)
                print(f"| {size} | {name} | {taken.row(pairs)} |", flush=True)
                if name == "first build":
                    first[size] = taken.processors / pairs
                    growth.append(f"{size}: {first[size] / next(iter(first.values())):.2f}")
    print(f"\nProcessor time of a pair of a first build, against the first size: {', '.join(growth)}")


if __name__ == "__main__":
    main()
