"""The syntax tree: what a line of a style file says, with its place in the file."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import TYPE_CHECKING, Any

from catalogue.findings import Place
from catalogue.language.naming import named_parts


@dataclass(frozen=True, slots=True)
class Node:
    """One phrase of the language; its parts have the names that the grammar gives them (`move.amount`).

    Attributes:
        word: the grammar rule ("midway", "curve", "add"), or the kind of a leaf ("NAME", "DIRECTION").
        inside: the phrases in it, in the order of the grammar; None where an optional part is not there.
        place: where it starts.
        text: as written (for a leaf exactly that; for a phrase the source from its start to its end).
        body: the indented lines under it, for a line that has any.
        cuts: the text cut up at its parts, for `wording`, which does it once for all clients; no part of the value.
    """

    word: str
    inside: tuple[Node | None, ...]
    place: Place
    text: str = ""
    body: tuple[Node, ...] = ()
    cuts: tuple[str | Node, ...] | None = field(default=None, init=False, repr=False, compare=False)

    if TYPE_CHECKING:

        def __getattr__(self, name: str) -> Any:
            """A named part: a Node, None for an optional one that is not there, or a tuple of Nodes.

            tests/drafting/test_parts.py holds every name asked for to the grammar.
            """

    def __reduce__(self) -> tuple[Callable[..., Node], tuple[Any, ...]]:
        return phrase, (self.word, self.inside, self.place, self.text, self.body)

    def walk(self) -> Iterator[Node]:
        """This node and all below it, depth first, the indented lines last."""
        waiting = [self]
        while waiting:
            node = waiting.pop()
            yield node
            waiting.extend(reversed([p for p in (*node.inside, *node.body) if p is not None]))

    def clause(self, word: str) -> Any:
        """The first of its clauses (`, ease 1 cm`) that is this word; None when there is none."""
        return next((clause for clause in self.clauses if clause.word == word), None)

    def clauses_called(self, word: str) -> list[Node]:
        """Of its clauses those that are this word."""
        return [clause for clause in self.clauses if clause.word == word]


Setter = Callable[[Node, object], None]


@cache
def _kind_of(word: str) -> tuple[type[Node], tuple[tuple[Setter, int | slice], ...]]:
    """The class of a phrase, with an attribute for each part, and how each is set."""
    slots = named_parts().get(word, ())
    if not slots:
        return Node, ()
    kind = type(word, (Node,), {"__slots__": tuple(slot.name for slot in slots)})
    return kind, tuple((getattr(kind, slot.name).__set__, slot.at) for slot in slots)


def phrase(
    word: str, inside: tuple[Node | None, ...], place: Place, text: str = "", body: tuple[Node, ...] = ()
) -> Node:
    """A phrase with its parts under their names."""
    kind, parts = _kind_of(word)
    made = kind(word, inside, place, text, body)
    for put, at in parts:
        if isinstance(at, int):
            put(made, inside[at])
        else:
            put(made, tuple(part for part in inside[at] if part is not None))
    return made
