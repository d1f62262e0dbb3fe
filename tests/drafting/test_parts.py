"""The parts of phrases: named in the grammar, and asked for in this room by those names only.

Attributes of phrases are not known to the type checker, so this test follows them through the room's code: a word's
function has a phrase of that rule, `move.amount` has what the grammar allows there, and so on.
"""

import ast
import inspect
import pickle
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from catalogue.drafting import drafter
from catalogue.drafting.registry import LINE_WORDS, VALUE_WORDS
from catalogue.findings import Place
from catalogue.language import naming
from catalogue.language.parser import grammar, parse_block
from catalogue.language.tree import Node

FIELDS = {name for name, _ in inspect.getmembers(Node) if not name.startswith("_")}
ROOM = Path(drafter.__file__).parent
READERS = [
    *sorted(ROOM.glob("*.py")),
    ROOM.parent / "studio" / "reading.py",
    ROOM.parent / "language" / "wording.py",
]
LEAVES = {terminal.name for terminal in grammar().terminals}


WITHOUT_EXAMPLE = """
a = half of 3 cm
shorten front at hip_line by 2 cm
redraw front.hem straight
"""
"""Words that share an entry of the handbook with others and are not in its example."""


# --- the grammar --------------------------------------------------------------------------------------------


def parts_of(grammar: str) -> list[tuple[str, int | slice]]:
    return [tuple(slot) for slot in naming.parts_in(grammar)["a"]]


def test_a_new_optional_part_moves_no_other():
    assert parts_of("a: one=B two=C") == [("one", 0), ("two", 1)]
    assert parts_of('a: ["x" new=D] one=B two=C') == [("new", 0), ("one", 1), ("two", 2)]


@pytest.mark.parametrize(
    ("grammar", "parts"),
    [
        ('a: one=B ("," many=c)*', [("one", 0), ("many", slice(1, None))]),
        ('a: many=c ("and" many=c)+ "at" last=B', [("many", slice(0, -1)), ("last", -1)]),
        ("a: many=c+ [last=B [after=D]]", [("many", slice(0, -2)), ("last", -2), ("after", -1)]),
        ('a: to=(B | C) ["x"] _DROPPED more=D', [("to", 0), ("more", 1)]),
        ('a: "x"\n    | "y"', []),
        ("?b: c | d -> a", None),
    ],
)
def test_parts_are_counted_from_the_end_without_a_list(grammar, parts):
    if parts is None:
        with pytest.raises(naming.GrammarError):
            parts_of(grammar)
    else:
        assert parts_of(grammar) == parts


@pytest.mark.parametrize(
    ("grammar", "said"),
    [
        ("a: one=B C", "C has no name"),
        ("a: one=B c", "c has no name"),
        ('a: ("x" one=B | "y" two=C)', "choice of words"),
        ("a: many=b* more=c*", "two lists"),
        ("a: one=B | one=B two=C", "its alternatives have other parts"),
    ],
)
def test_parts_that_cannot_be_counted_are_refused(grammar, said):
    with pytest.raises(naming.GrammarError, match=said):
        naming.parts_in(grammar)


def test_no_part_has_the_name_of_what_every_phrase_has():
    named = {slot.name for slots in naming.named_parts().values() for slot in slots}
    assert not named & FIELDS


def test_every_kept_symbol_of_the_grammar_has_a_name():
    """Against the parsing library: of each phrase in the handbook's examples, every part is under its name."""
    seen = set()
    for node in phrases():
        slots = naming.named_parts().get(node.word)
        if slots is None:
            assert node.word in LEAVES
            continue
        seen.add(node.word)
        named = []
        for slot in slots:
            value = getattr(node, slot.name)
            named += value if isinstance(value, tuple) else [value]
        assert [n for n in named if n is not None] == [n for n in node.inside if n is not None]
    assert {*VALUE_WORDS, *LINE_WORDS} - seen == set()


@cache
def phrases() -> tuple[Node, ...]:
    from catalogue.handbook import entries

    blocks = [*(block for entry in entries() for block in entry.steps()), WITHOUT_EXAMPLE]
    return tuple(n for b in blocks for line in parse_block(b, "a.md", 1)[0] for n in line.walk())


def test_a_phrase_survives_the_way_to_another_process():
    (line,), _ = parse_block("p = 3 cm down and 2 cm right from start", "a.md", 1)
    again = pickle.loads(pickle.dumps(line))
    assert again == line
    assert [move.direction.text for move in again.value.by.each] == ["down", "right"]


def test_a_part_that_the_rule_lacks_is_an_error():
    (line,), _ = parse_block("p = 3 cm down from start", "a.md", 1)
    assert line.place == Place("a.md", 1, 1)
    with pytest.raises(AttributeError):
        _ = line.valve


# --- the code -----------------------------------------------------------------------------------------------


@cache
def expansions() -> dict[str, frozenset[str]]:
    """Each symbol of the grammar -> the phrases and leaves that may stand for it in the tree."""
    rules: dict[str, list[list[str]]] = {}
    for rule, tokens in naming.alternatives(naming.grammar_text()):
        rules.setdefault(rule, []).append(list(tokens))
    found: dict[str, frozenset[str]] = {name: frozenset({name}) for name in LEAVES}

    def expand(name: str, inside: tuple[str, ...] = ()) -> frozenset[str]:
        if name in found:
            return found[name]
        if name in inside:
            return frozenset()
        if name in rules:
            return frozenset({name})
        words: set[str] = set()
        for tokens in rules[f"?{name}"]:
            if tokens[-1].startswith("->"):
                words.add(tokens[-1][2:].strip())
            elif any(t.endswith("=") for t in tokens):
                words.add(name)
            else:
                kept = [t for t in tokens if t[0].isalpha()]
                words |= expand(kept[0], (*inside, name))
        return frozenset(words)

    return {name.lstrip("?"): expand(name.lstrip("?")) for name in rules} | found


@cache
def kinds_of_parts() -> dict[str, dict[str, frozenset[str]]]:
    """Phrase -> its parts -> the phrases and leaves that each may be."""
    found: dict[str, dict[str, frozenset[str]]] = {}
    for rule, tokens in naming.alternatives(naming.grammar_text()):
        phrase = tokens[-1][2:].strip() if tokens[-1].startswith("->") else rule.lstrip("?")
        parts = found.setdefault(phrase, {})
        for at, token in enumerate(tokens):
            if not token.endswith("="):
                continue
            end = tokens.index(")", at) if tokens[at + 1] == "(" else at + 2
            symbols = [t for t in tokens[at + 1 : end] if t[0].isalpha()]
            kinds = frozenset().union(*(expansions()[s] for s in symbols))
            parts[token[:-1]] = parts.get(token[:-1], frozenset()) | kinds
    return found


ANY = frozenset(kinds_of_parts()) | LEAVES


class Follower(ast.NodeVisitor):
    """What a function asks of the phrases in it."""

    def __init__(self, kinds: dict[str, frozenset[str]]) -> None:
        self.kinds = dict(kinds)
        self.asked = 0
        self.wrong: list[str] = []

    def kind(self, node: ast.AST) -> frozenset[str] | None:
        """The phrases that an expression may be, or hold; None when it is none."""
        match node:
            case ast.Name(id=name):
                return self.kinds.get(name)
            case ast.Attribute(value=value, attr=attr):
                kinds = self.kind(value)
                if kinds is None:
                    return None
                if attr == "body":
                    return ANY
                if attr in FIELDS or attr == "keys":
                    return None
                self.asked += 1
                have = [k for k in kinds if attr in kinds_of_parts().get(k, ())]
                if not have:
                    self.wrong.append(
                        f"line {node.lineno}: {ast.unparse(node)}, of {', '.join(sorted(kinds)[:6])}"
                    )
                return frozenset().union(*(kinds_of_parts()[k][attr] for k in have))
            case ast.Subscript(value=value, slice=ast.Constant(value=str(word))):
                kinds = self.kind(value)
                return kinds if kinds is None else self.of_word(word, kinds, node)
            case ast.Subscript(value=value):
                return self.kind(value)
            case ast.Call(
                func=ast.Attribute(value=value, attr="clause" | "clauses_called"),
                args=[ast.Constant(value=word)],
            ):
                kinds = self.kind(ast.Attribute(value=value, attr="clauses", lineno=node.lineno))
                return self.of_word(word, kinds, node) if kinds else ANY
            case ast.DictComp(value=value, generators=[ast.comprehension(target=target, iter=source)]):
                self.bind(target, self.kind(source))
                return self.kind(value)
            case ast.BoolOp(values=values):
                return next((k for k in map(self.kind, values) if k), None)
            case ast.Tuple(elts=elements) | ast.List(elts=elements):
                kinds = [self.kind(e.value if isinstance(e, ast.Starred) else e) for e in elements]
                return None if None in kinds or not kinds else frozenset().union(*kinds)
        return None

    def of_word(self, word: str, kinds: frozenset[str], node: ast.AST) -> frozenset[str]:
        if word not in kinds:
            self.wrong.append(f"line {node.lineno}: {word} is none of {', '.join(sorted(kinds))}")
        return frozenset({word})

    def bind(self, target: ast.AST, kinds: frozenset[str] | None) -> None:
        if isinstance(target, ast.Name):
            if kinds is None:
                self.kinds.pop(target.id, None)
            else:
                self.kinds[target.id] = kinds

    def visit_Assign(self, node: ast.Assign) -> None:
        self.visit(node.value)
        target = node.targets[0]
        pairs = [(target, node.value)]
        if isinstance(target, ast.Tuple) and isinstance(node.value, ast.Tuple):
            pairs = list(zip(target.elts, node.value.elts, strict=True))
        for name, value in pairs:
            self.bind(name, self.kind(value))

    def visit_For(self, node: ast.For) -> None:
        self.bind(node.target, self.kind(node.iter))
        self.generic_visit(node)

    def visit_comprehension(self, node: ast.comprehension) -> None:
        self.bind(node.target, self.kind(node.iter))
        self.generic_visit(node)

    def comprehension_first(self, node: ast.AST) -> None:
        for each in node.generators:
            self.visit(each)
        for part in (getattr(node, "elt", None), getattr(node, "key", None), getattr(node, "value", None)):
            if part is not None:
                self.visit(part)

    visit_ListComp = visit_SetComp = visit_GeneratorExp = visit_DictComp = comprehension_first

    def visit_Attribute(self, node: ast.Attribute) -> None:
        self.kind(node)
        if self.kind(node.value) is None:
            self.visit(node.value)

    def visit_Call(self, node: ast.Call) -> None:
        self.kind(node)
        self.generic_visit(node)

    def visit_Compare(self, node: ast.Compare) -> None:
        """Words that a phrase's word is compared with must be some."""
        self.generic_visit(node)
        match node.left:
            case ast.Attribute(value=value, attr="word"):
                kinds = self.kind(value)
                words = [
                    c.value
                    for c in ast.walk(node)
                    if isinstance(c, ast.Constant) and isinstance(c.value, str)
                ]
                for word in words if kinds is not None else ():
                    self.of_word(word, kinds, node)


def functions() -> Iterator[tuple[str, ast.FunctionDef]]:
    for file in READERS:
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef):
                yield file.name, node


def follow(function: ast.FunctionDef) -> Follower:
    """Walk through a function: the phrase of a word's function is of that rule, any other may be of any rule."""
    words = [
        argument.value
        for decorator in function.decorator_list
        if isinstance(decorator, ast.Call) and re.fullmatch(r"\w+_word", ast.unparse(decorator.func))
        for argument in decorator.args
    ]
    kinds: dict[str, frozenset[str]] = {}
    for argument in function.args.args:
        note = ast.unparse(argument.annotation) if argument.annotation else ""
        if re.search(r"\bNode\b", note) and "Callable" not in note:
            kinds[argument.arg] = frozenset(words) if words else ANY
    follower = Follower(kinds)
    for statement in function.body:
        follower.visit(statement)
    return follower


@pytest.mark.parametrize(
    ("file", "function"), [*functions()], ids=lambda value: getattr(value, "name", None) or str(value)
)
def test_functions_ask_only_for_parts_that_are_there(file, function):
    assert follow(function).wrong == []


def test_most_of_what_is_asked_of_phrases_is_followed():
    """The count of places looked at: were the follower blind, the test above could not fail."""
    assert sum(follow(function).asked for _, function in functions()) > 400


@pytest.mark.parametrize(
    "body",
    [
        "return node.strat",
        "return [move.direction.text + move.amuont for move in node.by.each]",
        "by = node.by\n    for move in by.each:\n        print(move.start)",
        "if node.start.word == 'nmae':\n        return 1",
    ],
)
def test_a_misspelt_part_is_found(body):
    source = f"@value_word('placed')\ndef placed(node: Node, desk: Desk) -> Point:\n    {body}\n"
    (function,) = ast.parse(source).body
    assert follow(function).wrong


def test_a_misspelt_clause_is_found():
    source = "@line_word('sew')\ndef sew(node: Node, desk: Desk) -> None:\n    node.clause('sew_eaze')\n"
    assert follow(ast.parse(source).body[0]).wrong


def test_no_part_is_asked_for_by_its_number():
    for file in READERS:
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Subscript) and isinstance(node.value, ast.Attribute):
                assert node.value.attr != "inside", f"{file.name}, line {node.lineno}"
