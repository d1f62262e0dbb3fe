"""Alterations: text files that say what a fitting changes on the paper, at landmarks that pieces have.

The catalogue's own are in `catalogue/alterations/`; a studio's own lie in `styles/alterations/` and come before them.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal

from catalogue.between_runs import kept
from catalogue.findings import Finding, Place, Severity, Trouble, did_you_mean
from catalogue.frontmatter import Front, decode, read_bytes, split
from catalogue.language.parser import parse_block
from catalogue.lengths import LengthError, parse_length
from catalogue.people import REGISTER, Register
from catalogue.slugs import slugify
from catalogue.studio.body import cut_up
from catalogue.studio.signs import SignDrawing, read_drawing

OWN = Path(__file__).resolve().parent.parent / "alterations"
"""The catalogue's own alterations."""

Turn = Literal["length", "shoulder", "bust", "rest"]
TURNS: tuple[Turn, ...] = ("length", "shoulder", "bust", "rest")
"""The trade's order: all changes of length, then the shoulders, the bust, and the rest (L. Lee, Fitting Shoulders)."""

KEYS = (
    "title",
    "names",
    "sign",
    "drawing",
    "pin",
    "amount",
    "usual",
    "limit",
    "side",
    "belongs to",
    "turn",
    "edges",
    "measured by",
    "undone by",
    "garments",
    "follows",
    "otherwise",
    "source",
)
_NEEDED = ("title", "names", "sign", "pin", "amount", "usual", "limit", "belongs to", "turn", "source")
_HEADER = re.compile(r"\s*((?:then )?if there|with)\s+(.+?)\s*$")
LANDMARK = re.compile(r"[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)?")


@dataclass(frozen=True, slots=True)
class AlterationStep:
    """One draft block of an alteration: carried out where all of `landmarks` are there and none of `without`.

    Without an `optional` one the alteration is made all the same; where another's landmarks are missing it is not. One
    that `follows` only trues what others have changed.
    """

    heading: str
    prose: str
    landmarks: tuple[str, ...]
    without: tuple[str, ...]
    statements: tuple[Any, ...]
    source: str
    place: Place
    optional: bool = False
    follows: bool = False


@dataclass(frozen=True, slots=True)
class Alteration:
    """An alteration.

    Attributes:
        slug: stem of its file, as `draft.json` and the handbook name it.
        names: phrases that it answers to in a client's file.
        sign: what is seen on the body. drawing: the same as a small drawing, if there is one.
        pin: what to pin and measure. amount: what the amount is, in words.
        usual: mm, the least and the most that is usual. limit: mm, beyond which the garment is drafted again.
        one_sided: it can be made on one side alone.
        on_the_body: it belongs to the body, so to every style cut from the block; else to the garment fitted.
        turn: its place in the trade's order.
        edges: among how many edges an amount given "in all" is divided.
        measured_by: keys of the measurements that, taken again, may make it obsolete.
        undone_by: slugs of the alterations that take it back.
        garments: kinds of garment it is meant for; none for all.
        follows: what must follow, in words.
        otherwise: what to do on a garment that has no place for it.
        prose: the text before the first step.
    """

    slug: str
    file: str
    title: str
    names: tuple[str, ...] = ()
    sign: str = ""
    pin: str = ""
    amount: str = ""
    usual: tuple[float, float] = (0.0, 0.0)
    limit: float = 0.0
    one_sided: bool = False
    on_the_body: bool = True
    turn: Turn = "rest"
    edges: int = 1
    measured_by: tuple[str, ...] = ()
    undone_by: tuple[str, ...] = ()
    garments: tuple[str, ...] = ()
    follows: str = ""
    otherwise: str = ""
    source: str = ""
    prose: str = ""
    steps: tuple[AlterationStep, ...] = ()
    findings: tuple[Finding, ...] = ()
    digest: str = ""
    lines: tuple[str, ...] = ()
    drawing: SignDrawing | None = None

    @property
    def ok(self) -> bool:
        return not any(f.is_error for f in self.findings)

    def source_line(self, number: int) -> str:
        return self.lines[number - 1].rstrip() if 0 < number <= len(self.lines) else ""


@cache
def library() -> Mapping[str, Alteration]:
    """The catalogue's own alterations, by slug, in the order of their names."""
    # To read them takes every process longer than to look up how they were read: 50 files with their drafting.
    return {a.slug: a for a in kept("library", (), lambda: read_alterations(OWN, OWN.parent))}


def read_alterations(folder: Path, root: Path, register: Register = REGISTER) -> tuple[Alteration, ...]:
    """Every alteration in a folder, wrong ones with their findings; none where there is no such folder."""
    paths = sorted(folder.glob("*.md")) if folder.is_dir() else []
    return tuple(read_alteration(path, root, register) for path in paths)


def read_alteration(path: Path, root: Path, register: Register = REGISTER) -> Alteration:
    """The alteration in a file; problems become its findings."""
    file = path.relative_to(root).as_posix()
    try:
        data = read_bytes(path, file)
        front = split(decode(data, file), file)
    except Trouble as trouble:
        return Alteration(slugify(path.stem), file, path.stem, findings=trouble.findings)
    return _Reader(front, path.stem, hashlib.sha256(data).hexdigest(), register).alteration()


class _Reader:
    def __init__(self, front: Front, stem: str, digest: str, register: Register) -> None:
        self.front, self.stem, self.digest, self.register = front, stem, digest, register
        self.findings: list[Finding] = []

    def say(self, message: str, place: Place, hint: str = "", severity: Severity = Severity.ERROR) -> None:
        self.findings.append(self.front.finding("alteration", message, place, hint, severity))

    def alteration(self) -> Alteration:
        for key, entry in self.front.mapping.items():
            if key not in KEYS:
                hint = did_you_mean(key, KEYS) or f"Known: {', '.join(KEYS)}."
                self.say(f"“{key}” is not known in an alteration.", entry.key_place, hint)
        for key in _NEEDED:
            if not self.text(key):
                self.say(f"The alteration has no “{key}”.", Place(self.front.file), f"Write a line {key}: …")
        prose, steps = self.body()
        usual = self.lengths("usual", 2)
        limit = self.lengths("limit", 1)
        if usual and limit and limit[0] < usual[-1]:
            self.say("The limit is less than what is usual.", self.place("limit"))
        return Alteration(
            slug=slugify(self.stem),
            file=self.front.file,
            title=self.text("title") or self.stem,
            names=tuple(" ".join(w.casefold().split()) for w in self.listed("names", ";")),
            sign=self.text("sign"),
            pin=self.text("pin"),
            amount=self.text("amount"),
            usual=(usual[0], usual[-1]) if usual else (0.0, 0.0),
            limit=limit[0] if limit else 0.0,
            one_sided=self.one_of("side", ("both", "one or both"), "both") == "one or both",
            on_the_body=self.one_of("belongs to", ("body", "garment"), "body") == "body",
            turn=self.turn(),
            edges=self.edges(),
            measured_by=tuple(self.measured_by()),
            undone_by=tuple(slugify(w) for w in self.listed("undone by")),
            garments=tuple(w.casefold() for w in self.listed("garments")),
            follows=self.text("follows"),
            otherwise=self.text("otherwise"),
            source=self.text("source"),
            prose=prose,
            steps=steps,
            findings=tuple(self.findings),
            digest=self.digest,
            lines=self.front.lines,
            drawing=self.drawing(),
        )

    def place(self, key: str) -> Place:
        entry = self.front.mapping.get(key)
        return entry.place if entry is not None else Place(self.front.file)

    def text(self, key: str) -> str:
        entry = self.front.mapping.get(key)
        return " ".join((entry.text or "").split()) if entry is not None else ""

    def drawing(self) -> SignDrawing | None:
        text = self.text("drawing")
        try:
            return read_drawing(text) if text else None
        except ValueError as error:
            self.say(f"drawing: {error}.", self.place("drawing"), severity=Severity.WARNING)
            return None

    def listed(self, key: str, separator: str = ",") -> tuple[str, ...]:
        entry = self.front.mapping.get(key)
        if entry is not None and entry.entries is not None:
            return tuple(" ".join(e.text.split()) for e in entry.entries if e.text)
        return tuple(w for w in (part.strip() for part in self.text(key).split(separator)) if w)

    def one_of(self, key: str, words: tuple[str, ...], usual: str) -> str:
        word = self.text(key).casefold()
        if word and word not in words:
            self.say(f"“{word}” is not known after {key}:.", self.place(key), f"Write {' or '.join(words)}.")
        return word if word in words else usual

    def turn(self) -> Turn:
        word = self.one_of("turn", TURNS, "rest")
        return next(turn for turn in TURNS if turn == word)

    def edges(self) -> int:
        word = self.text("edges")
        if word and not (word.isdecimal() and 1 <= int(word) <= 40):
            self.say("The number of edges is a whole number, such as 4.", self.place("edges"))
            return 1
        return int(word) if word else 1

    def lengths(self, key: str, most: int) -> list[float]:
        found = []
        for word in re.split(r"\s+to\s+", self.text(key))[:most]:
            try:
                found.append(parse_length(word))
            except LengthError as error:
                self.say(f"{key}: {error.message}.", self.place(key), error.hint or "Write 6 mm to 25 mm.")
        return found

    def measured_by(self) -> Iterator[str]:
        for name in self.listed("measured by"):
            found = self.register.find(name)
            if found is None:
                self.say(f"“{name}” is not a measurement known here.", self.place("measured by"))
            else:
                yield found.key

    def body(self) -> tuple[str, tuple[AlterationStep, ...]]:
        """The text before the first step, and the steps."""
        opening: list[str] = []
        steps: list[AlterationStep] = []
        heading, waiting = "", ""
        for part in cut_up(self.front.body, self.front.body_line):
            if part.kind == "heading":
                heading, waiting = part.text, ""
            elif part.kind == "prose":
                if not heading and not steps:
                    opening.append(part.text.strip())
                else:
                    waiting = part.text.strip()
            else:
                steps.append(self.step(heading, waiting, part.text, part.line))
                waiting = ""
        if not steps:
            self.say("The alteration has no draft block.", Place(self.front.file), "Add one: ```draft")
        return "\n\n".join(opening), tuple(steps)

    def step(self, heading: str, prose: str, source: str, line: int) -> AlterationStep:
        rows = source.split("\n")
        begins = rows[0].strip()
        optional = begins.startswith(("if there", "then if there"))
        landmarks, without = self.landmarks(rows, line)
        body = "\n".join(rows)
        nodes, findings = parse_block(body, self.front.file, line)
        self.findings.extend(findings)
        return AlterationStep(
            heading,
            prose,
            landmarks,
            without,
            nodes,
            body.strip("\n"),
            Place(self.front.file, line),
            optional,
            begins.startswith("then"),
        )

    def landmarks(self, rows: list[str], line: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """What the first line names, `with back.centre, without sleeve` or `if there sleeve.cap`; blanked in `rows`."""
        found = _HEADER.fullmatch(rows[0]) if rows else None
        if found is None:
            self.say(
                "The first line of a draft block names the landmarks it needs.",
                Place(self.front.file, line),
                "Write: with back.centre, back.side",
            )
            return (), ()
        rows[0] = ""
        needed, _, barred = found.group(2).partition("without ")
        names = []
        for words in (needed, barred):
            given = [w.strip() for w in words.split(",") if w.strip()]
            for name in given:
                if not LANDMARK.fullmatch(name):
                    self.say(f"“{name}” is no landmark.", Place(self.front.file, line), "Write back.centre.")
            names.append(tuple(given))
        return names[0], names[1]


def known_alterations(own: Sequence[Alteration] = ()) -> dict[str, Alteration]:
    """By slug the alterations that can be used: a studio's own come before the catalogue's of the same name."""
    return {**library(), **{a.slug: a for a in own if a.ok}}
