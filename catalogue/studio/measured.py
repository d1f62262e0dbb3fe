"""Which body measurements a style uses, by their own names or everyday ones, and which names are its own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from catalogue.findings import Place
from catalogue.language.tree import Node
from catalogue.people.register import REGISTER, Register
from catalogue.studio.style import Choice

_GIVING = frozenset(
    (
        "define",
        "find",
        "point_on",
        "dart",
        "double_dart",
        "opening_named",
        "piece",
        "part_named",
        "trace",
        "tape",
        "take_piece",
    )
)
"""Phrases whose names are the style's own from there on."""
_STANDARD = REGISTER.lengths()


class Used(NamedTuple):
    """What the formulas of a style say of body measurements.

    Attributes:
        needs: keys of those that every draft needs, in order of first use.
        alternatives: groups of keys of which one is enough.
        optional: keys of those that are used where there are any, for one of `needs` stands in for them.
        everyday: names that are not keys, to the keys they mean.
        given: names that the style gives itself.
        unused: choices that no formula and no line uses.
        taken: names of standard measurements that the style gives to something else.
    """

    needs: tuple[str, ...]
    alternatives: tuple[tuple[str, ...], ...]
    optional: tuple[str, ...]
    everyday: Mapping[str, str]
    given: frozenset[str]
    taken: tuple[Node, ...]
    unused: tuple[Choice, ...]


def used_measurements(
    trees: Sequence[Node], choices: Sequence[Choice], register: Register, stated: Sequence[Node] = ()
) -> Used:
    """The measurements that lines and formulas use.

    Args:
        stated: what the style settles for its blocks; the choices in it are used.

    A name that the style gives itself, anywhere in the file, is its own, unless it is the name of a standard
    measurement: so an everyday name (waist) or a measurement of the studio's own may be one.
    """
    giving = [node for tree in trees for node in _given(tree)]
    taken = [node for node in giving if node.text in _STANDARD]
    given = frozenset((*(node.text for node in giving), *(choice.key for choice in choices), "start", "pi"))
    lengths = register.lengths()
    everyday: dict[str, str] = {}
    needs: dict[str, None] = {}
    groups: dict[tuple[str, ...], None] = {}

    def key_of(name: str) -> str:
        """The measurement that a name means in this style, "" when it means none."""
        if name in given:
            return ""
        if name in lengths:
            return name
        found = register.of_lengths(name)
        if found is None:
            return ""
        everyday[name] = found.key
        return found.key

    optional: set[Place] = set()
    named = {node.text for tree in stated for node in tree.walk() if node.word == "name"}
    for node in (node for tree in trees for node in tree.walk()):
        if node.word in ("name", "NAME"):
            named.add(node.text)
        if node.word == "either":
            groups.setdefault(tuple(dict.fromkeys(key for name in node.names if (key := key_of(name.text)))))
            optional.update(name.place for name in node.names)
        elif node.word == "name":
            if node.place not in optional and (key := key_of(node.text)):
                needs.setdefault(key)
        elif node.word == "finished" and (key := _compared_with(node, register)):
            needs.setdefault(key)
    return Used(
        tuple(needs),
        tuple(group for group in groups if group and not set(group) & set(needs)),
        tuple(dict.fromkeys(key for g in groups if set(g) & set(needs) for key in g if key not in needs)),
        everyday,
        given,
        tuple(taken),
        tuple(choice for choice in choices if choice.key not in named),
    )


def _given(tree: Node) -> Iterator[Node]:
    for node in tree.walk():
        if node.word in _GIVING:
            yield from (leaf for leaf in node.inside if leaf is not None and leaf.word == "NAME")


def _compared_with(node: Node, register: Register) -> str:
    """The measurement that a finished one is compared with by its name alone."""
    if not node.clauses or node.clause("finish_on"):
        return ""
    found = register.find(node.name.text)
    return found.key if found is not None else ""
