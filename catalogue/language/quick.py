"""The grammar's tables followed without detours: the trees of the parsing library, in a quarter of its time.

Styles are read line by line, and reading is most of what a check of a studio costs. The library builds each tree
through several layers of calls and makes a token of every comma; here the same tables are followed in one loop. What is
not understood is left to the library, which says why. `tests/language/test_quick.py` holds the two to the same trees.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache
from re import _parser
from typing import Any, NamedTuple

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput
from lark.grammar import Rule, Terminal
from lark.parsers.lalr_analysis import Shift
from lark.tree import Meta

from catalogue.language.tables import STARTS


class _Reduction(NamedTuple):
    """What becomes of the parts of a rule.

    Attributes:
        size: how many parts it has.
        kept: of those that are kept: which, whether its own parts are put in its place, and how many None before it.
        none_after: how many None after the last.
        alone: whether a single part stands for the whole.
        data: name of the tree.
        origin: name of the rule.
    """

    size: int
    kept: tuple[tuple[int, bool, int], ...]
    none_after: int
    alone: bool
    data: str
    origin: str


class _Terminal(NamedTuple):
    """A kind of token, tried where the parser can take it.

    Attributes:
        match: of its pattern.
        words: texts of it that are tokens of another kind.
    """

    name: str
    match: Callable[[str, int], re.Match[str] | None]
    words: dict[str, str]
    ignored: bool


_Step = int | str | _Reduction
"""The state to go on in, the rule that the last part as it is stands for, or what to make of the last parts."""

_Span = tuple[int, int, int, int, int, int]
"""Start, line, column, end, line of the end, column of the end."""


def tree_of(text: str, start: str, lark: Lark) -> Tree[Token]:
    """The tree of a text. Raises UnexpectedInput, as the library does."""
    found = tree_or_none(text, start, lark)
    return lark.parse(text, start=start) if found is None else found


def tree_or_none(text: str, start: str, lark: Lark) -> Tree[Token] | None:
    """The tree of a text; None where there is none."""
    parser = _parser_of(lark)
    if parser is not None:
        return parser.parsed(text, start)
    try:
        return lark.parse(text, start=start)
    except UnexpectedInput:
        return None


@lru_cache(maxsize=4)
def _parser_of(lark: Lark) -> QuickParser | None:
    """None for a library that is made otherwise than is known here: it is then asked itself, slower and never wrong."""
    try:
        return QuickParser(lark)
    except (AttributeError, TypeError, LookupError):
        return None


class QuickParser:
    """Parses as `lark` does. Raises AttributeError, TypeError or LookupError for a library that is made otherwise."""

    def __init__(self, lark: Lark) -> None:
        frontend: Any = lark.parser
        self._table = frontend.parser._parse_table
        self._lexers: dict[int, Any] = frontend.lexer.lexers
        self._flags: int = frontend.lexer_conf.g_regex_flags
        self._ignored = frozenset(frontend.lexer_conf.ignore)
        self._patterns: dict[str, re.Pattern[str]] = {}
        self._parsed_patterns: dict[str, Any] = {}
        self._starts: dict[tuple[str, str], bool] = {}
        self._rows: dict[int, dict[str, _Step]] = {}
        self._steps = {rule: _step(rule) for rule in lark.rules}
        self._states = {
            start: (self._table.start_states[start], self._table.end_states[start]) for start in STARTS
        }
        self._terminals: dict[int, tuple[_Terminal, ...]] = {}
        self._by_letter: dict[int, dict[str, tuple[_Terminal, ...]]] = {}

    def parsed(self, text: str, start: str) -> Tree[Token] | None:
        """The tree of a text; None where there is none."""
        state, end_state = self._states[start]
        rows, by_letter = self._rows, self._by_letter
        states = [state]
        values: list[Any] = []
        spans: list[_Span] = []
        values_append, spans_append, states_append = values.append, spans.append, states.append
        at, length = 0, len(text)
        line, line_start = 1, 0
        while True:
            # The next token, among those that can follow here.
            name = "$END"
            while at < length:
                letter = text[at]
                if letter == " ":
                    at += 1
                    continue
                letters = by_letter.get(state)
                if letters is None:
                    letters = by_letter[state] = {}
                terminals = letters.get(letter)
                if terminals is None:
                    terminals = letters[letter] = self._starting_with(letter, state)
                for terminal in terminals:
                    match = terminal.match(text, at)
                    if match is not None:
                        break
                else:
                    return None
                value = match[0]
                begin, column, begin_line = at, at - line_start + 1, line
                at = match.end()
                if "\n" in value:
                    line += value.count("\n")
                    line_start = begin + value.rindex("\n") + 1
                if not terminal.ignored:
                    name = terminal.words.get(value, terminal.name)
                    break
            while True:
                row = rows.get(state)
                if row is None:
                    row = rows[state] = self._row(state)
                step = row.get(name)
                if step is None:
                    return None
                if isinstance(step, int):
                    state = step
                    states_append(state)
                    span = (begin, begin_line, column, at, line, at - line_start + 1)
                    values_append((name, value))
                    spans_append(span)
                    break
                if isinstance(step, str):
                    state = rows[states[-2]][step]
                    states[-1] = state
                    if state == end_state and name == "$END":
                        return _whole(values[-1], spans[-1])
                    continue
                size, kept, none_after, alone, data, origin = step
                parts, places = values[-size:], spans[-size:]
                del values[-size:], spans[-size:], states[-size:]
                children: list[Any] = []
                for which, opened, none in kept:
                    if none:
                        children += [None] * none
                    part = parts[which]
                    if type(part) is tuple:
                        children.append(_token(part, places[which]))
                    elif opened:
                        children += part.children
                    else:
                        children.append(part)
                if none_after:
                    children += [None] * none_after
                span = places[0] if size == 1 else (*places[0][:3], *places[-1][3:])
                if alone and len(children) == 1:
                    values_append(children[0])
                else:
                    meta = Meta()
                    meta.empty = False
                    meta.start_pos, meta.line, meta.column, meta.end_pos, meta.end_line, meta.end_column = (
                        span
                    )
                    values_append(Tree(data, children, meta))
                spans_append(span)
                state = rows[states[-1]][origin]
                states_append(state)
                if state == end_state and name == "$END":
                    return _whole(values[-1], span)

    def _row(self, state: int) -> dict[str, _Step]:
        return {
            name: argument if action is Shift else self._steps[argument]
            for name, (action, argument) in self._table.states[state].items()
        }

    def _starting_with(self, letter: str, state: int) -> tuple[_Terminal, ...]:
        lexer = self._lexers[state]
        terminals = self._terminals.get(id(lexer))
        if terminals is None:
            terminals = self._terminals[id(lexer)] = self._of(lexer.terminals)
        return tuple(each for each in terminals if self._may_start(each.name, letter))

    def _may_start(self, name: str, letter: str) -> bool:
        found = self._starts.get((name, letter))
        if found is None:
            parsed = self._parsed_patterns.get(name)
            if parsed is None:
                pattern = self._patterns[name]
                parsed = self._parsed_patterns[name] = _parser.parse(pattern.pattern, pattern.flags)
            found = self._starts[name, letter] = may_start(parsed, letter)
        return found

    def _of(self, definitions: Any) -> tuple[_Terminal, ...]:
        """Terminals in the order in which they are tried. A word that a pattern takes whole goes by that pattern."""
        words = [each for each in definitions if each.pattern.type == "str"]
        known: set[str] = set()
        found = []
        for each in definitions:
            if each.pattern.type != "re":
                continue
            pattern = self._pattern(each)
            taken = {}
            for word in words:
                text = word.pattern.value
                match = pattern.match(text) if word.priority == each.priority else None
                if match is not None and match[0] == text:
                    taken[text] = word.name
                    if word.pattern.flags <= each.pattern.flags:
                        known.add(word.name)
            found.append((each, taken))
        taken_by = {each.name: taken for each, taken in found}
        return tuple(
            _Terminal(
                each.name,
                self._pattern(each).match,
                taken_by.get(each.name, {}),
                each.name in self._ignored,
            )
            for each in definitions
            if each.name not in known
        )

    def _pattern(self, definition: Any) -> re.Pattern[str]:
        found = self._patterns.get(definition.name)
        if found is None:
            found = self._patterns[definition.name] = re.compile(definition.pattern.to_regexp(), self._flags)
        return found


def _token(part: tuple[str, str], span: _Span) -> Token:
    begin, line, column, end, end_line, end_column = span
    return Token(part[0], part[1], begin, line, column, end_line, end_column, end)


def _whole(value: Any, span: _Span) -> Any:
    return _token(value, span) if type(value) is tuple else value


_CATEGORIES = {
    _parser.CATEGORY_DIGIT: re.compile(r"\d"),
    _parser.CATEGORY_NOT_DIGIT: re.compile(r"\D"),
    _parser.CATEGORY_SPACE: re.compile(r"\s"),
    _parser.CATEGORY_NOT_SPACE: re.compile(r"\S"),
    _parser.CATEGORY_WORD: re.compile(r"\w"),
    _parser.CATEGORY_NOT_WORD: re.compile(r"\W"),
}


def may_start(items: Any, letter: str) -> bool:
    """Whether a text that starts with `letter` may match a pattern, given as the parts that `re` takes it apart to.

    Never False where one does; True also for what is not looked into.
    """
    for kind, of in items:
        if kind in (_parser.AT, _parser.ASSERT, _parser.ASSERT_NOT):
            continue
        if kind is _parser.LITERAL:
            return of == ord(letter)
        if kind is _parser.IN:
            return _is_in(of, letter)
        if kind is _parser.BRANCH:
            if any(may_start(branch, letter) for branch in of[1]):
                return True
            if min(branch.getwidth()[0] for branch in of[1]):
                return False
        elif kind in (_parser.MAX_REPEAT, _parser.MIN_REPEAT):
            least, _, inside = of
            if may_start(inside, letter):
                return True
            if least and inside.getwidth()[0]:
                return False
        elif kind is _parser.SUBPATTERN and not of[1] and not of[2]:
            if may_start(of[3], letter):
                return True
            if of[3].getwidth()[0]:
                return False
        else:
            return True
    # The end of a part: what comes after it decides, and that is looked at where it stands.
    return False


def _is_in(choices: Any, letter: str) -> bool:
    inverted = choices[0][0] is _parser.NEGATE
    for kind, of in choices[1:] if inverted else choices:
        if kind is _parser.LITERAL:
            found = of == ord(letter)
        elif kind is _parser.RANGE:
            found = of[0] <= ord(letter) <= of[1]
        elif kind is _parser.CATEGORY:
            found = _CATEGORIES[of].match(letter) is not None
        else:
            return True
        if found:
            return not inverted
    return inverted


def _step(rule: Rule) -> _Step:
    """What a rule makes of its parts. Raises TypeError for a rule of a kind that the grammar has none of."""
    options, size = rule.options, len(rule.expansion)
    if options.keep_all_tokens or options.template_source or not size:
        raise TypeError(f"a rule of another kind: {rule}")
    empty = options.empty_indices or (False,) * size
    runs = [len(run) for run in "".join("1" if each else "0" for each in empty).split("0")]
    kept = []
    none = 0
    for which, symbol in enumerate(rule.expansion):
        none += runs[which]
        if not (isinstance(symbol, Terminal) and symbol.filter_out):
            kept.append((which, not isinstance(symbol, Terminal) and symbol.name.startswith("_"), none))
            none = 0
    none += runs[size]
    alone = bool(options.expand1 and not rule.alias)
    if alone and size == 1 and kept == [(0, False, 0)] and not none:
        return rule.origin.name
    return _Reduction(size, tuple(kept), none, alone, rule.alias or rule.origin.name, rule.origin.name)
