"""The words of the language: each is a function registered under its grammar rule's name, with what is known of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, TypeVar

from catalogue.drafting.desk import Desk
from catalogue.language.tree import Node
from catalogue.language.values import Value
from catalogue.pattern import Piece

ValueWord = Callable[[Node, Desk], Value]
LineWord = Callable[[Node, Desk], None]
PieceWord = Callable[[Piece, Node, Desk], Piece]

VALUE_WORDS: dict[str, ValueWord] = {}
"""Grammar rule -> function that gives a value."""

LINE_WORDS: dict[str, LineWord] = {}
"""Grammar rule -> function that carries out a whole line."""

PIECE_WORDS: dict[str, PieceWord] = {}
"""Grammar rule of a line under a piece -> function that draws on the piece."""

Shows = Literal["number", "amounts", "length", "deciding", "nothing"]

SHOWS: dict[str, Shows] = {}
"""Grammar rule -> what the working of a line with it shows."""

SUBSTITUTED: set[str] = set()
"""Grammar rules in whose place a working has the number that they stand for."""

PAPER_WORK: dict[str, bool] = {}
"""Grammar rule -> whether the line cuts pieces apart or joins them, which is counted as work before it is done."""

F = TypeVar("F", bound=Callable[..., object])


def value_word(*rules: str, shows: Shows | None = None, substituted: bool = False) -> Callable[[F], F]:
    """Register a function for phrases that give a value.

    Args:
        shows: what is read beside the formula in a working. "number" is what it comes to, where it is a number (so if
            nothing is said); "amounts" the lengths that place a point, its parts `amount` or `by`; "length" how long
            a line is; "deciding" the value that a row is chosen by; "nothing" that there is no working. Words for
            points and lines must say it.
        substituted: in a working its number stands in its place (a name, a length measured).
    """

    def register(function: F) -> F:
        for rule in rules:
            VALUE_WORDS[rule] = function  # type: ignore[assignment]
            if shows is not None:
                SHOWS[rule] = shows
            if substituted:
                SUBSTITUTED.add(rule)
        return function

    return register


def line_word(*rules: str, paper_work: bool | None = None) -> Callable[[F], F]:
    """Register a function for lines that do something.

    Args:
        paper_work: it cuts pieces apart or joins them. Words for scissors and tape must say it.
    """

    def register(function: F) -> F:
        for rule in rules:
            LINE_WORDS[rule] = function  # type: ignore[assignment]
            if paper_work is not None:
                PAPER_WORK[rule] = paper_work
        return function

    return register


def piece_word(*rules: str) -> Callable[[F], F]:
    """Register a function for indented lines that draw on the piece above them."""

    def register(function: F) -> F:
        for rule in rules:
            PIECE_WORDS[rule] = function  # type: ignore[assignment]
        return function

    return register
