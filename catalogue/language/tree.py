"""The syntax tree: what a line of a style file says, with its place in the file."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from catalogue.findings import Place


@dataclass(frozen=True, slots=True)
class Node:
    """One phrase of the language.

    Attributes:
        word: the grammar rule ("midway", "curve", "add"), or the kind of a leaf ("NAME", "DIRECTION").
        parts: the phrases inside it, in the order of the grammar; None where an optional part is not there.
        place: where it starts.
        text: as written (for a leaf exactly that; for a phrase the source from its start to its end).
        body: the indented lines under it, for a line that has any.
        cuts: the text cut up at its parts, for `wording`, which does it once for all clients; no part of the value.
    """

    word: str
    parts: tuple[Node | None, ...]
    place: Place
    text: str = ""
    body: tuple[Node, ...] = ()
    cuts: tuple[str | Node, ...] | None = field(default=None, init=False, repr=False, compare=False)

    def walk(self) -> Iterator[Node]:
        """This node and all below it, depth first, the indented lines last."""
        waiting = [self]
        while waiting:
            node = waiting.pop()
            yield node
            waiting.extend(reversed([p for p in (*node.parts, *node.body) if p is not None]))

    def part(self, index: int) -> Node:
        """The part that the grammar makes sure is there."""
        found = self.parts[index]
        if found is None:
            raise IndexError(index)
        return found

    def all(self, word: str) -> list[Node]:
        """The direct parts that are this word."""
        return [p for p in self.parts if p is not None and p.word == word]
