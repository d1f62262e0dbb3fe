"""What to say when a line is not understood: what stood there, what was expected, what it may have meant."""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import get_close_matches
from functools import cached_property

from lark import Lark
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from catalogue.findings import Finding, Place, nearest
from catalogue.language.hints import HINTS
from catalogue.language.letters import NAME, unseen
from catalogue.language.repairs import line_to_write
from catalogue.language.words import ARITHMETIC, first_words, in_list, is_word, language_words, words_of
from catalogue.trade_names import called, put_in_our_words

_SPELLED = {"EQUAL": "=", "COMMA": ",", "COLON": ":", "RPAR": ")"}
_NEVER_MISSING = ARITHMETIC | {"COMPARE", "IS", "NOT", "TEXT", "BY", "THEN", "EXTENDED", "_EXTENDED"}

ALMOST_THE_SAME = 0.8
"""Likeness (0 to 1) of an understood name to a word of the language for which it may be a slip."""

NEAR = 200
"""Characters of the line on either side of the error that are looked at for frequent mistakes."""

_JOIN = "Join the two by _ if they are one name, or put a sign between them (+ - * /)."

LONGEST_TRIED = 600
"""Characters of a line up to which it is tried again with one thing changed."""

MOST_OPEN = 400
"""Phrases begun up to which each word that could follow is tried: each trial takes the longer, the more are open."""


class _Mistake:
    """One refused line, while it is looked at."""

    def __init__(
        self, error: UnexpectedToken | UnexpectedCharacters, text: str, start: str, lark: Lark
    ) -> None:
        self.text, self.start, self.lark = text, start, lark
        at = error.pos_in_stream
        if isinstance(error, UnexpectedToken):
            at_end = error.token.type == "$END"
            self.expected = set(error.accepts or error.expected)
            self.found = "" if at_end else str(error.token)
            if error.token.type == "WORDS":
                self.found = self.found.split()[0]
        else:
            at_end = False
            self.expected = set(error.allowed or ())
            whole = re.compile(rf"{NAME}|\S").match(text, at or 0)
            self.found = whole.group(0) if whole else error.char
        self.at = len(text.rstrip()) if at_end or at is None else at
        self.before, self.before_type = "", ""
        self._read_again()
        given = re.match(rf"\s*({NAME})\s*=(?!=)", text) if start == "statement" else None
        self.own_word = given.group(1) if given and given.group(1) in language_words(lark) else ""
        if given and self.own_word and self.at <= given.end():
            self.at = given.start(1)
        else:
            self.own_word = ""

    def _read_again(self) -> None:
        """What came just before, and exactly what could have followed it."""
        try:
            reader = self.lark.parse_interactive(self.text[: self.at], start=self.start)
            tokens = list(reader.iter_parse())
        except UnexpectedInput:
            return
        if tokens:
            self.before, self.before_type = " ".join(tokens[-1].split()), tokens[-1].type
        if len(reader.parser_state.state_stack) <= MOST_OPEN:
            self.expected = reader.accepts() or self.expected

    # --- what it says ---------------------------------------------------------------------------------------

    def message(self) -> str:
        if self.own_word:
            return f"“{self.own_word}” is a word of the language, so it can't be given as a name."
        if self.found:
            hidden = unseen(self.found[0])
            if hidden:
                return f"There is {hidden} here."
            shown = self.found if len(self.found) <= 40 else self.found[:39] + "…"
            said = f"“{shown}” is not understood "
            said += f"after “{self.before[-40:]}”" if self.before else "here"
            listed = self.listed()
            if listed in (self.before, self.found):
                listed = ""  # it says nothing that the line does not show
            return said + (f"; expected {listed}." if listed else ".")
        said = "The line stops too early"
        return f"{said}: after “{self.before[-40:]}” expected {self.listed()}." if self.before else f"{said}."

    def listed(self) -> str:
        if not self.before and self.start == "statement":
            return "a name and =, or a word that begins a line, such as piece, dart, sew or check"
        return in_list(self.lark, self.expected, self.before_type)

    def instead(self) -> str:
        """The line to write in its place; "" when none is found that parses."""
        if self.own_word:
            changed = self._with(f"{self.own_word}_1", len(self.own_word))
            return " ".join(changed.split()) if self._parses(changed) else ""
        hidden = self.found and unseen(self.found[0])
        if not hidden and self._renamed[1]:
            return self._renamed[1]
        return line_to_write(self._with(" ", 1) if hidden else self.text, self.start, self.lark)

    # --- what would help ------------------------------------------------------------------------------------

    def hint(self, instead: str = "") -> str:
        """What would help; "" when it is a guess that the line to write does not follow."""
        hint = self._hint()
        if not instead:
            return hint
        if hint == f"Put a comma before “{self.found}”." and not self._parses(self._with(", ", 0)):
            return hint if f", {self.found}" in instead else ""
        return "" if hint == _JOIN and f"{self.before}_{self.found}" not in instead else hint

    def _hint(self) -> str:
        if self.own_word:
            return f"Choose another name, such as {self.own_word}_1."
        if self.found and unseen(self.found[0]):
            return "Delete it and type a plain space."
        short = len(self.text) <= LONGEST_TRIED
        return (
            self._used_own_word()
            or self._renamed[0]
            or (short and self._respelt())
            or self._frequent()
            or (short and self._comma())
            or (short and self._put_in())
            or (not self.found and self._after_comma())
            or self._misspelt()
            or (short and self._left_out())
            or ""
        )

    def _used_own_word(self) -> str:
        """A word of the language where a name is wanted."""
        wanted = self.found in language_words(self.lark) and "NAME" in self.expected
        if wanted and self._parses(self._with("x_", len(self.found))):
            return f"“{self.found}” is a word of the language; choose another name."
        return ""

    @cached_property
    def _renamed(self) -> tuple[str, str]:
        """What helps, and the line to write, where the name that one thing has here makes the line right."""
        if len(self.text) <= LONGEST_TRIED:
            for line, theirs, ours in put_in_our_words(self.text):
                if self._parses(line):
                    return called(theirs, ours), " ".join(line.split())
        return "", ""

    def _frequent(self) -> str:
        row_start = self.text.rfind("\n", 0, self.at) + 1
        row_end = self.text.find("\n", self.at)
        begin = max(row_start, self.at - NEAR)
        near = self.text[begin : min(row_end if row_end >= 0 else len(self.text), self.at + NEAR)]
        for hint in HINTS:
            if (hint.at is None or hint.at.fullmatch(self.found)) and hint.looks_like.search(near):
                return hint.say
        if self.before_type == "NUMBER" and re.fullmatch(r"[a-zA-Z]{1,4}", self.found):
            return "Units are mm, cm, m, in and ft."
        return ""

    def _respelt(self) -> str:
        """One word spelt right makes the line right."""
        for word in nearest(self.found, self._likely(), 3) if " " not in self.found else ():
            if word != self.found and self._parses(self._with(word, len(self.found))):
                return f"Did you mean “{word}”?"
        return ""

    def _comma(self) -> str:
        """A comma put in makes the line right, or more of it."""
        if {"COMMA", "WHICH"} & self.expected and self.found and self._gets_further(self._with(", ", 0)):
            return f"Put a comma before “{self.found}”."
        return ""

    def _put_in(self) -> str:
        """Quotes, one word or one sign put in make the line right."""
        if "TEXT" in self.expected and re.match(r"\w", self.found):
            rest = self.text[self.at :].split(",")[0].split(" when ")[0].rstrip()
            if self._parses(self._with(f'"{rest}"', len(rest))):
                return f'Put the words in quotes: "{rest}".'
        for put_in, said in self._to_put_in():
            if self._parses(self._with(f" {put_in} ", 0)):
                return f"Put {said} before “{self.found}”." if self.found else f"Add {said}."
        return ""

    def _after_comma(self) -> str:
        """For a line that stops where a comma could follow: what to write after it."""
        if "COMMA" not in self.expected:
            return ""
        try:
            reader = self.lark.parse_interactive(self.text[: self.at] + " ,", start=self.start)
            list(reader.iter_parse())
        except UnexpectedInput:
            return ""
        follows = in_list(self.lark, reader.accepts(), "COMMA")
        return f"Continue with a comma and {follows}." if follows else ""

    def _left_out(self) -> str:
        if self.before_type == "NAME" and re.fullmatch(NAME, self.found):
            return _JOIN
        if self.found and self._parses(self._with(" ", len(self.found))):
            return f"Leave out “{self.found}”."
        return ""

    def _likely(self) -> list[str]:
        """Words that could stand where the unknown one does."""
        words = words_of(self.lark)
        likely = {w for e in self.expected for w in words.get(e, ()) if is_word(w)}
        if self.before_type == "NUMBER":
            likely.add("degrees")
        return sorted(likely | ({"up", "down", "left", "right"} if "DIRECTION" in self.expected else set()))

    def _to_put_in(self) -> Iterator[tuple[str, str]]:
        for terminal in sorted(self.expected - _NEVER_MISSING):
            if terminal in _SPELLED:
                yield _SPELLED[terminal], f"“{_SPELLED[terminal]}”"
            else:
                for word in words_of(self.lark).get(terminal, ())[:2]:
                    if is_word(word):
                        yield word, f"“{word}”"

    def _misspelt(self) -> str:
        """The nearest word for what stood there or just before it."""
        first = re.match(rf"\s*({NAME})", self.text)
        begins = first_words(self.lark) if self.start == "statement" else ()
        if first and begins and "=" not in self.text.split('"')[0]:
            word = first.group(1)
            close = nearest(word, {w.split()[0] for w in begins})
            if close and close[0] != word:
                full = next(w for w in begins if w.split()[0] == close[0])
                return f"Did you mean “{full}”?"
            if word not in {w.split()[0] for w in begins}:
                return (
                    "A line gives a name (hem = …) or starts with a word such as piece, dart, sew or check."
                )
        if re.fullmatch(NAME, self.found):
            close = nearest(self.found, self._likely())
            if close and close[0] != self.found:
                return f"Did you mean “{close[0]}”?"
        if self.before_type == "NAME" and self.found:
            own = [word for word in language_words(self.lark) if len(word) > 3]
            close = get_close_matches(self.before, own, 1, ALMOST_THE_SAME)
            if close and close[0] != self.before:
                return f"Did you mean “{close[0]}” for “{self.before}”?"
        return ""

    def _with(self, put_in: str, instead_of: int) -> str:
        return self.text[: self.at] + put_in + self.text[self.at + instead_of :]

    def _parses(self, text: str) -> bool:
        return self._stops_at(text) is None

    def _gets_further(self, text: str) -> bool:
        """Whether a changed line is understood beyond the words at which this one was not."""
        stops = self._stops_at(text)
        longer = len(text) - len(self.text)
        return stops is None or stops > self.at + longer + len(self.found)

    def _stops_at(self, text: str) -> int | None:
        try:
            self.lark.parse(text, start=self.start)
        except UnexpectedInput as error:
            return error.pos_in_stream if error.pos_in_stream is not None else len(text)
        return None


def explain(
    error: UnexpectedToken | UnexpectedCharacters,
    text: str,
    start: str,
    place: Place,
    lark: Lark,
    repair: bool = True,
) -> Finding:
    """A finding for a line that the grammar refused; `place` is where `text` starts.

    With `repair` the line to write in its place is looked for.
    """
    mistake = _Mistake(error, text, start, lark)
    before = text[: mistake.at].split("\n")
    row, column = len(before), len(before[-1]) + 1
    if row == 1:
        column += place.column - 1
    at = Place(place.file, place.line + row - 1, column)
    source = text.split("\n")[row - 1].rstrip() if place.column == 1 else ""
    instead = mistake.instead() if repair else ""
    return Finding(
        "not-understood", mistake.message(), at, mistake.hint(instead), source=source, instead=instead
    )
