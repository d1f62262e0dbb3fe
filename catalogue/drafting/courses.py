"""What each line of a style did, so that a draft that differs in a few things need not do it all again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import fields
from typing import Any, NamedTuple

from catalogue.drafting.blocks import OnHand
from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import do_lines
from catalogue.geometry import Point
from catalogue.language.tree import Node
from catalogue.language.values import Value

_WORTH_IT = frozenset(
    {
        "close_dart",
        "cut_along",
        "cut_through",
        "dart",
        "find",
        "fold_out",
        "level_with",
        "piece",
        "pleat",
        "redraw",
    }
    | {"shape_hem", "spread", "take", "tape", "trace", "true_across", "unfold", "when", "widen_bust"}
)
"""Lines that take so long that to look whether they do the same again is worth it."""

_LOOKS_AT_ALL = frozenset({"allow", "check", "finished", "otherwise", "sew", "sew_halves", "zip_in"})
"""Lines that look at more than they name: at edges of any piece, at what was asked for, at the line before."""

_PARTS = ("messages", "trace", "table", "names", "asked", "blocks")
"""What of a desk a line may change, beside the account of the work."""


class Course:
    """The lines of one style, with what each of them did when it was first carried out for a client.

    A line that comes again on another desk for the same client, with all that it names as it was, is not carried out
    again: what it changed then is changed in the same way.
    """

    def __init__(self) -> None:
        self._done: dict[int, _Done] = {}

    def do_lines(self, lines: Iterable[Node], desk: Desk) -> None:
        """Carry out lines, as `evaluate.do_lines` does."""
        for line in lines:
            if line.word not in _WORTH_IT:
                do_lines([line], desk)
            elif (done := self._done.get(id(line))) is None:
                before = desk.twin()
                do_lines([line], desk)
                self._done[id(line)] = _Done(line, before, desk.twin())
            elif done.differs(desk):
                do_lines([line], desk)
            else:
                done.repeat(desk)


class Courses:
    """The courses of a style and its blocks for one client."""

    def __init__(self) -> None:
        self._of: dict[int, Course] = {}

    def of(self, style: object) -> Course:
        """The course of a style, which must be held meanwhile."""
        return self._of.setdefault(id(style), Course())


class _Changed(NamedTuple):
    """What a line changed in one slot of one part of a desk: what is there no more, what is there anew."""

    part: str
    slot: str
    gone: tuple[Any, ...]
    new: Any


class _Done:
    """A line that was carried out once."""

    def __init__(self, line: Node, before: Desk, after: Desk) -> None:
        self.line = line  # held, so that no other has its id
        self._before, self._after = before, after
        leaves = [node.text for node in line.walk() if not node.inside]
        self._names = frozenset(name for text in leaves for name in text.split("."))
        words = {node.word for node in line.walk()}
        self._makes_piece, self._takes = "piece" in words, "take" in words
        changed = _changes(before, after)
        self._changed = changed or []
        # In a round of a repeat names are put together that are not written so.
        self._every_time = (
            changed is None or not _LOOKS_AT_ALL.isdisjoint(words) or any("{" in text for text in leaves)
        )

    def differs(self, desk: Desk) -> bool:
        """Whether something that the line looks at lies otherwise on a desk than when it was carried out."""
        if self._every_time:
            return True
        before, names = self._before, self._names
        table, then = desk.table, before.table
        if table.paper != then.paper or table.empty_darts != then.empty_darts:
            return True
        if _unlike(desk.names.values, before.names.values, names) or _unlike(
            table.pieces, then.pieces, names
        ):
            return True
        for here, there in (
            (desk.names.broken, before.names.broken),
            (table.broken, then.broken),
            (table.cut_up, then.cut_up),
        ):
            if not names.isdisjoint(here ^ there):
                return True
        for sheets, sheets_then in (
            (desk.names.paper_of, before.names.paper_of),
            (table.paper_of, then.paper_of),
        ):
            if _unlike(sheets, sheets_then, names):
                return True
        if any(
            _is_other(block, before.blocks.on_hand[name])
            for name, block in desk.blocks.on_hand.items()
            if name in names
        ):
            return True
        if self._makes_piece and _points_on_paper(desk) != _points_on_paper(before):
            return True
        return self._takes and _sheets(desk) != _sheets(before)

    def repeat(self, desk: Desk) -> None:
        """Change on a desk what the line changed when it was carried out. Raises OutOfBudget as that does."""
        desk.budget.spend(self._after.budget.last, self._after.budget.spent - self._before.budget.spent)
        for name, slot, gone, new in self._changed:
            part = getattr(desk, name)
            held = getattr(part, slot)
            if slot == "items":
                for piece in gone:
                    part.remove_piece(piece)
                held += new
            elif isinstance(held, dict):
                for key in gone:
                    held.pop(key, None)
                held.update(new)
            elif isinstance(held, set):
                held.difference_update(gone)
                held |= new
            elif isinstance(held, list):
                held += new
            elif slot == "drawn":
                part.drawn += new
            else:
                setattr(part, slot, new)
        desk.taken = self._after.taken


def _changes(before: Desk, after: Desk) -> list[_Changed] | None:
    """What a line changed; None where that can't be said as something added or replaced."""
    found: list[_Changed] = []
    for name in _PARTS:
        was, now = getattr(before, name), getattr(after, name)
        for each in fields(was):
            slot = each.name
            old, new = getattr(was, slot), getattr(now, slot)
            if old is new or slot in _PARTS or slot == "budget" or (slot != "pieces" and old == new):
                continue
            change: _Changed | None
            if slot == "items":
                change = _items_changed(name, old, new)
            elif isinstance(new, dict):
                change = _entries_changed(name, slot, old, new)
            elif isinstance(new, set):
                change = _Changed(name, slot, tuple(old - new), new - old)
            elif isinstance(new, list):
                same = len(old) <= len(new) and all(a is b for a, b in zip(old, new, strict=False))
                change = _Changed(name, slot, (), new[len(old) :]) if same else None
            else:
                change = _Changed(name, slot, (), new - old if slot == "drawn" else new)
            if change is None:
                return None
            if change.gone or not isinstance(new, dict | set | list) or change.new:
                found.append(change)
    return found


def _entries_changed(part: str, slot: str, old: dict[Any, Any], new: dict[Any, Any]) -> _Changed:
    """A piece that is laid on the table again comes last; all else is replaced where it stands."""
    changed = {key: value for key, value in new.items() if key not in old or old[key] is not value}
    gone = [key for key in old if key not in new or (slot == "pieces" and key in changed)]
    return _Changed(part, slot, tuple(gone), changed)


def _items_changed(part: str, old: list[Any], new: list[Any]) -> _Changed | None:
    """Items that are new, and the names of pieces that are there no more."""
    kept, still = {id(item) for item in new}, {id(item) for item in old}
    gone = [item for item in old if id(item) not in kept]
    if any(item.kind != "piece" or item.gone is not None for item in gone):
        return None
    marked = {(item.id, item.born) for item in gone}
    added = [item for item in new if id(item) not in still and (item.id, item.born) not in marked]
    return _Changed(part, "items", tuple(item.name for item in gone), added)


def _unlike(here: Mapping[str, object], there: Mapping[str, object], names: Iterable[str]) -> bool:
    for name in names:
        one, other = here.get(name), there.get(name)
        if one is not other and one != other:
            return True
    return False


def _is_other(block: OnHand, then: OnHand) -> bool:
    return block.drafted is not then.drafted or block.stated != then.stated or block.given != then.given


def _points_on_paper(desk: Desk) -> dict[str, Value]:
    """What a new piece takes along: the points named on the sheet being drawn on."""
    paper, paper_of = desk.table.paper, desk.names.paper_of
    return {
        name: value
        for name, value in desk.names.values.items()
        if isinstance(value, Point) and paper_of.get(name) == paper
    }


def _sheets(desk: Desk) -> set[str]:
    return {*desk.table.paper_of.values(), *desk.names.paper_of.values()}
