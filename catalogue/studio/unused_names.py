"""Names that a style gives and nothing in it uses: a line left over, or another name that was meant."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from catalogue.findings import Finding, Place, Severity
from catalogue.language.tree import Node
from catalogue.studio.prose import Prose
from catalogue.studio.style import Style

_DRAWN = frozenset(
    (
        *(
            "line_to",
            "line_from",
            "curve",
            "arc_to",
            "arc_turning",
            "circle",
            "parallel",
            "extended",
            "chain",
        ),
        *("part_of", "mirrored", "turned", "shifted"),
    )
)
"""Values that are lines, or may be: a line is drawn and seen, and so is of use though no other line names it."""
_NAME = re.compile(r"[^\W\d]\w*")


def unused_names(styles: Iterable[Style]) -> Iterator[Finding]:
    """A warning for each point or figure that no line, formula or mark of its style uses.

    Nothing is said of a style that has mistakes, for a line that was not understood may use the name; nor of blocks and
    what others are cut from, whose names are there for these.
    """
    every = tuple(styles)
    cut_from = {cut.slug for style in every for cut in style.cut_from}
    for style in every:
        if style.ok and not style.is_block and style.slug not in cut_from:
            yield from style.unused


def unused_in(style: Style) -> Iterator[Finding]:
    """A warning for each such name of a style, whatever it is there for."""
    given: dict[str, Node] = {}
    used: set[str] = set()
    naming: set[Place] = set()
    for node in (node for tree in _trees(style) for node in tree.walk()):
        if node.word == "define":
            naming.add(node.name.place)
            if node.value.word not in _DRAWN and "{" not in node.name.text:
                given.setdefault(node.name.text, node.name)
        elif not any(part is not None for part in node.inside) and node.place not in naming:
            used.update(_NAME.findall(node.text))
    for name, node in given.items():
        if name not in used:
            yield Finding(
                "unused-name",
                f"Nothing uses “{name}”.",
                node.place,
                "Use it in a later line, or leave this one out.",
                Severity.WARNING,
                style.source_line(node.place.line)[:200],
            )


def _trees(style: Style) -> Iterator[Node]:
    """What the style says, line by line: first its blocks' choices, then prose and draft in their order."""
    for cut in style.cut_from:
        yield from (stated.tree for stated in cut.stated)
    for section in style.sections:
        for part in section.parts:
            if isinstance(part, Prose):
                yield from part.trees
            else:
                yield from part.statements
