"""Reading a style file: front matter, headings, prose with formulas in braces, and draft blocks."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from catalogue.findings import Finding, Place, Severity, Trouble, did_you_mean
from catalogue.frontmatter import Entry, Front, decode, read_bytes, split
from catalogue.language.parser import parse_block, parse_formula
from catalogue.language.tree import Node
from catalogue.people import known_measurements, lookup
from catalogue.slugs import slugify
from catalogue.studio.style import Block, Choice, Formula, Prose, Section, Style

KEYS = ("title", "garment", "for", "summary", "tags", "cloth", "choices", "notions", "sources", "picture")
AUDIENCES = ("women", "men", "girls", "boys", "children")

_CHOICE = re.compile(r"^(?P<default>[^()]+?)\s*(?:\((?P<limits>[^()]*)\))?\s*(?:[-–—]\s+(?P<about>.+))?$")
_FENCE = re.compile(r"^(\s{0,3})(`{3,}|~{3,})\s*([^`\s]*)")
_HEADING = re.compile(r"^ {0,3}(#{1,6})\s+(.*?)\s*#*\s*$")
_FORMULA = re.compile(r"(?<!\\)\{([^{}\n]+)\}")
_CODE_SPAN = re.compile(r"(`+)(?!`).*?(?<!`)\1(?!`)")

MOST_STATEMENTS = 4000
"""Lines of drafting in one style: many times what the longest coat needs."""


def read_style(path: Path, root: Path) -> Style:
    """The style in the file at `path`; problems become its findings. `root` is the studio's folder."""
    file = path.relative_to(root).as_posix() if path.is_relative_to(root) else path.as_posix()
    try:
        data = read_bytes(path, file)
    except Trouble as trouble:
        return Style(slugify(path.stem), file, path.stem, findings=trouble.findings)
    return style_from(data, path.stem, file)


def style_from(data: bytes, stem: str, file: str) -> Style:
    """A style from the bytes of its file; `stem` names it, `file` is for findings."""
    digest = hashlib.sha256(data).hexdigest()
    try:
        front = split(decode(data, file), file)
    except Trouble as trouble:
        return Style(slugify(stem), file, stem, findings=trouble.findings, digest=digest)
    return _Reader(front, stem, digest).style()


class _Reader:
    def __init__(self, front: Front, stem: str, digest: str) -> None:
        self.front = front
        self.stem = stem
        self.digest = digest
        self.findings: list[Finding] = []
        self.blocks = 0
        self.formulas = 0
        self.statements = 0

    def say(
        self, code: str, message: str, place: Place, hint: str = "", severity: Severity = Severity.ERROR
    ) -> None:
        self.findings.append(self.front.finding(code, message, place, hint, severity))

    def style(self) -> Style:
        for name, entry in self.front.mapping.items():
            if name not in KEYS:
                self.say("unknown-key", f"“{name}” is not known in a style file.", entry.key_place,
                         did_you_mean(name, KEYS) or f"Known are: {', '.join(KEYS)}.")  # fmt: skip
        choices = tuple(self.choices())
        sections = tuple(self.sections())
        title = self.text("title")
        if not title:
            entry = self.front.mapping.get("title")
            self.say("no-title", "The style has no title.", entry.key_place if entry else Place(self.front.file),
                     "Write a line title: with the style's name.")  # fmt: skip
        return Style(
            slug=slugify(self.stem),
            file=self.front.file,
            title=title or self.stem,
            garment=self.text("garment"),
            audience=self.audience(),
            summary=self.text("summary"),
            tags=self.words("tags"),
            cloth=tuple(self.pairs("cloth", "main")),
            notions=self.words("notions", ";"),
            choices=choices,
            sources=self.words("sources", ";"),
            picture=self.text("picture"),
            sections=sections,
            needs=self.needs(sections, choices),
            findings=tuple(self.findings),
            digest=self.digest,
            lines=self.front.lines,
        )

    # --- front matter ---------------------------------------------------------------------------------------

    def text(self, key: str) -> str:
        entry = self.front.mapping.get(key)
        if entry is None:
            return ""
        if entry.text is None:
            self.say("wrong-kind", f"“{key}” should be a text; it is {entry.kind}.", entry.place)
            return ""
        return " ".join(entry.text.split())

    def words(self, key: str, separator: str = ",") -> tuple[str, ...]:
        """A list, or a text with separators."""
        entry = self.front.mapping.get(key)
        if entry is None:
            return ()
        if entry.text is not None:
            return tuple(w for w in (" ".join(p.split()) for p in entry.text.split(separator)) if w)
        if entry.entries is None:
            self.say("wrong-kind", f"“{key}” should be a list; it is {entry.kind}.", entry.place)
            return ()
        return tuple(" ".join(e.text.split()) for e in entry.entries if e.text)

    def pairs(self, key: str, alone: str) -> Iterator[tuple[str, str]]:
        entry = self.front.mapping.get(key)
        if entry is None:
            return
        if entry.text is not None:
            yield alone, entry.text
        elif entry.mapping is not None:
            for name, value in entry.mapping.items():
                if value.text is None:
                    self.say("wrong-kind", f"“{name}” should be a text; it is {value.kind}.", value.place)
                else:
                    yield name, value.text
        else:
            self.say(
                "wrong-kind", f"“{key}” should be a text, or names with texts; it is a list.", entry.place
            )

    def audience(self) -> tuple[str, ...]:
        words = self.words("for")
        for word in words:
            if word not in AUDIENCES:
                self.say("unknown-audience", f"“{word}” is not known after for:.",
                         self.front.mapping["for"].place,
                         did_you_mean(word, AUDIENCES) or f"Known are: {', '.join(AUDIENCES)}.")  # fmt: skip
        return tuple(w for w in words if w in AUDIENCES)

    def choices(self) -> Iterator[Choice]:
        entry = self.front.mapping.get("choices")
        if entry is None or entry.value == "":
            return
        if entry.mapping is None:
            self.say("wrong-kind", f"“choices” should be names with values; it is {entry.kind}.", entry.place,
                     "Write, indented under it: length: 58 cm (40 cm to 75 cm) - from the waist down")  # fmt: skip
            return
        for name, value in entry.mapping.items():
            choice = self.choice(" ".join(name.replace("_", " ").split()), value)
            if choice is not None:
                yield choice

    def choice(self, name: str, entry: Entry) -> Choice | None:
        if not re.fullmatch(r"[^\W\d_][\w ]*", name):
            self.say("bad-name", f"“{name}” can't be the name of a choice.", entry.key_place,
                     "Use letters, digits and blanks, a letter first.")  # fmt: skip
            return None
        found = _CHOICE.match(" ".join((entry.text or "").split()))
        if not found:
            self.say("bad-choice", f"The choice “{name}” is not understood.", entry.place,
                     "Write a default, then a range or the words to choose from: 58 cm (40 cm to 75 cm) - about it")  # fmt: skip
            return None
        default, limits, about = (
            found["default"].strip(),
            (found["limits"] or "").strip(),
            found["about"] or "",
        )
        if " to " in limits:
            low, _, high = limits.partition(" to ")
            return self.checked(Choice(name, default, low.strip(), high.strip(), (), about, entry.place))
        options = tuple(w.strip() for w in re.split(r",|\bor\b", limits) if w.strip())
        if options and default not in options:
            self.say("bad-choice", f"The default “{default}” is not among the words of “{name}”.", entry.place,
                     did_you_mean(default, options))  # fmt: skip
        bad = next((o for o in options if not re.fullmatch(r"[^\W\d_]\w*", o)), None)
        if bad is not None:
            self.say(
                "bad-choice", f"“{bad}” can't be a word to choose: expected one word of letters.", entry.place
            )
        return self.checked(Choice(name, default, "", "", options, about, entry.place))

    def checked(self, choice: Choice) -> Choice:
        if choice.options:
            return choice
        for text in filter(None, (choice.default, choice.lowest, choice.highest)):
            try:
                parse_formula(text, choice.place)
            except Trouble as trouble:
                self.findings.extend(trouble.findings)
        return choice

    # --- the body -------------------------------------------------------------------------------------------

    def sections(self) -> Iterator[Section]:
        level, heading, heading_line = 0, "", self.front.body_line
        parts: list[Prose | Block] = []
        prose: list[str] = []
        prose_line = self.front.body_line
        fence: tuple[str, bool] | None = None
        block: list[str] = []
        block_line = 0

        def flush() -> None:
            if any(line.strip() for line in prose):
                parts.append(self.prose("\n".join(prose), prose_line))
            prose.clear()

        for number, line in enumerate(self.front.body.split("\n"), self.front.body_line):
            mark = _FENCE.match(line)
            if fence is not None:
                closing = mark and mark[2].startswith(fence[0]) and not mark[3] and line.strip() == mark[2]
                if closing and fence[1]:
                    parts.append(self.block("\n".join(block), block_line))
                    block, fence, prose_line = [], None, number + 1
                elif fence[1]:
                    block.append(line)
                else:
                    prose.append(line)
                    fence = None if closing else fence
                continue
            if mark:
                fence = (mark[2], mark[3] == "draft")
                if fence[1]:
                    flush()
                    block_line = number + 1
                else:
                    prose.append(line)
                continue
            title = _HEADING.match(line)
            if title:
                flush()
                if heading or parts:
                    yield Section(level, heading, tuple(parts), heading_line)
                level, heading, heading_line = len(title[1]), title[2], number
                parts, prose_line = [], number + 1
                continue
            if not prose:
                prose_line = number
            prose.append(line)
        if fence is not None and fence[1]:
            self.say("open-fence", "This draft block is not closed.", Place(self.front.file, block_line - 1),
                     "End it with a line of three backticks: ```")  # fmt: skip
            parts.append(self.block("\n".join(block), block_line))
        flush()
        if heading or parts:
            yield Section(level, heading, tuple(parts), heading_line)

    def block(self, source: str, line: int) -> Block:
        self.blocks += 1
        nodes, findings = parse_block(source, self.front.file, line)
        self.findings.extend(findings)
        self.statements += len(nodes)
        if self.statements > MOST_STATEMENTS:
            self.say(
                "too-long",
                f"A style has at most {MOST_STATEMENTS} lines of drafting.",
                Place(self.front.file, line),
            )
            nodes = ()
        return Block(self.blocks, source, nodes, Place(self.front.file, line))

    def prose(self, text: str, line: int) -> Prose:
        formulas: list[Formula] = []
        in_fence = False
        out: list[str] = []
        for offset, row in enumerate(text.split("\n")):
            if _FENCE.match(row):
                in_fence = not in_fence
            out.append(row if in_fence else self.row(row, line + offset, formulas))
        return Prose("\n".join(out), line, tuple(formulas))

    def row(self, row: str, number: int, formulas: list[Formula]) -> str:
        """A line of prose with its formulas taken out; those inside code stay as written."""
        code = [m.span() for m in _CODE_SPAN.finditer(row)]

        def take(found: re.Match[str]) -> str:
            if any(a <= found.start() < b for a, b in code):
                return found.group(0)
            place = Place(self.front.file, number, found.start(1) + 1)
            try:
                tree = parse_formula(found.group(1), place)
            except Trouble as trouble:
                self.findings.extend(trouble.findings)
                return found.group(0)
            formulas.append(Formula(self.formulas, found.group(1), tree, place))
            self.formulas += 1
            return Prose.slot(self.formulas - 1)

        clean = row.replace("\ue000", "").replace("\ue001", "")
        return _FORMULA.sub(take, clean).replace("\\{", "{").replace("\\}", "}")

    # --- what it needs --------------------------------------------------------------------------------------

    def needs(self, sections: tuple[Section, ...], choices: tuple[Choice, ...]) -> tuple[str, ...]:
        """Measurements that the formulas name, in order of first use."""
        known: Mapping[str, str] = known_measurements()
        found: dict[str, None] = {}
        for root in self.trees(sections, choices):
            for node in root.walk():
                if node.word == "name" and node.text in known:
                    found.setdefault(node.text)
                elif node.word == "finished" and not any(
                    p is not None and p.word == "finish_on" for p in node.parts[2:]
                ):
                    measurement = lookup(node.part(0).text)
                    if measurement is not None and len(node.parts) > 2:
                        found.setdefault(measurement.key)
        return tuple(found)

    def trees(self, sections: tuple[Section, ...], choices: tuple[Choice, ...]) -> Iterator[Node]:
        for choice in choices:
            if not choice.options:
                for text in filter(None, (choice.default, choice.lowest, choice.highest)):
                    try:
                        yield parse_formula(text, choice.place)
                    except Trouble:
                        continue
        for section in sections:
            for part in section.parts:
                if isinstance(part, Block):
                    yield from part.statements
                else:
                    yield from (f.tree for f in part.formulas)
