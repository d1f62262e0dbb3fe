"""How a drafter may say a thing, and how it is written in the language.

A row is `what is said -> what to write`. Small letters are words (`a|b` is either, `[a]` may be left out); a capital
stands for what the drafter gives and is written again on the right:

    P Q R   a point, line or name (also in brackets)      L M     a length or a sum
    E F     a piece and its edge                          D       a direction
    K       a number
    N       a name                                        T       words in quotes
    ^ $     the line begins or ends here
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cached_property

from catalogue.language.letters import LETTER, NAME

_TABLE = """
# units and numbers
L centimetres|centimeters|centimetre|centimeter|cms|cmt|centi|c.m. -> L cm
L millimetres|millimeters|millimetre|millimeter|mms|mil -> L mm
L ins|inchs|inces|zoll -> L in
L foot|feet -> L ft
L metres|meters|metre|meter -> L m
L degs|deg|grad|grades -> L degrees
[one|a|1] third [of] [the] way -> 1/3 of the way
two thirds [of] [the] way -> 2/3 of the way
[one|a|1] quarter [of] [the] way -> 1/4 of the way
three quarters [of] [the] way -> 3/4 of the way
half [of] [the] way from -> 1/2 of the way from
K of way -> K of the way
K from P to Q $ -> K of the way from P to Q
K [of] [the] way between P and Q -> K of the way from P to Q
K between P and|to Q -> K of the way from P to Q
plus -> +
minus|less -> -
times|multiplied [by] -> *
divided by -> /
L x M -> L * M
L over|by M $ -> L / M
half [a] [the] P -> half of P
quarter [the] P -> quarter of P
third [the] P -> third of P
[one|a] fifth [of] [the] P -> P / 5
[one|a] sixth [of] [the] P -> P / 6
[one|a] eighth [of] [the] P -> P / 8
[one|a] tenth [of] [the] P -> P / 10
[one|a] twelfth [of] [the] P -> P / 12
two thirds [of] [the] P -> 2/3 * P
three quarters [of] [the] P -> 3/4 * P
L : M $ -> L / M
[the] sum of P and Q -> P + Q
[the] difference of|between P and Q -> P - Q
[the] average|mean of P and Q -> (P + Q) / 2
twice|double [the] P -> 2 * P
J P -> J * P
square root P -> square root of P
sqrt [of] P -> square root of P
max|maximum|larger|greater|bigger|longer|greatest|largest of P and|or Q -> larger of P and Q
min|minimum|smaller|lesser|shorter|least|smallest of P and|or Q -> smaller of P and Q
round|rounded [off] P to L -> rounded P to L
^ N = measure|go|mark|take|come|point L D -> N = L D
length|len|size|measure P -> length of P
length|len|size|measure of|along [the] P -> length of P
distance between P and Q -> distance from P to Q
distance [from] P and|- Q -> distance from P to Q
angle P -> angle of P
# points
L below|under|beneath|underneath|bellow [from] P -> L down from P
L above|over [from] P -> L up from P
L to [the] left|right [of|from] P -> L \\1 from P
L left|right|up|down of|to P -> L \\1 from P
D L -> L D
downward|downwards|south|lower -> down
upward|upwards|north|higher -> up
leftward|leftwards|west -> left
rightward|rightwards|east -> right
P + L D $ -> L D from P
midpoint|middle|mid|centre|center|half|halfway|midway [of|point|way] [between] [from] P and|to|- Q -> midway P to Q
mid way|point P -> midway P
half way between|from P and|to Q -> midway P to Q
half way -> halfway
halfway|middle|midpoint|centre|center of|on|down|up [the] P $ -> halfway along P
halfway|middle|midpoint|centre|center of|on|down|up [the] P -> (halfway along P)
start|end P -> \\1 of P
^ N = go|measure|mark|come|square [out] D from P by|for L $ -> N = L D from P
^ go|measure|mark|come|square [out] L D from P to|for N $ -> N = L D from P
^ from P go|measure|mark|come|square [out] L D to|for N $ -> N = L D from P
^ from P go|measure|mark|come|square [out] D L to|for N $ -> N = L D from P
^ N from P L D $ -> N = L D from P
^ N L D from P $ -> N = L D from P
P , L D $ -> L D from P
P D L $ -> L D from P
L from P on|along|down|up [the] Q -> L along Q from P
L D from P -> (L D from P)
intersection|crossing|crosspoint|cross [point] [of] P and|with Q -> where P crosses Q
[where|at] P meets|intersects|cuts|hits|crosses|touches Q -> where P crosses Q
where P and Q cross|meet|intersect -> where P crosses Q
L along P starting|beginning|measured [at|from] Q -> L along P from Q
L on [the] P from Q -> L along P from Q
L along P at Q -> L along P from Q
L past|after|behind P from Q -> L beyond P from Q
L towards|to P from Q -> L from Q toward P
towards -> toward
L perpendicular|square|squared [to|off|from|at] P at|from|in Q -> L square off P at Q
perpendicular|squared|square from P to|on|onto Q -> square from P to Q
perpendicular|squared|square to Q from P -> square from P to Q
below|above P level with Q -> \\1 P on level Q
left|right P level with Q -> \\1 of P in line with Q
under|beneath|underneath P -> below P
[the] point|spot|place where -> where
P + ( L D ) $ -> L D from P
P to|and Q midway|halfway -> midway P to Q
on|along Q L from P -> L along Q from P
level with Q below|above P -> \\1 P on level Q
in line Q -> in line with Q
[on] level with|of Q -> on level Q
move|shift|take [the] P L D -> P moved L D
turn|rotate|swing [the] P [by|through] L about|round|around Q -> P turned L about Q
mirror image -> mirror
P mirrored|reflected|flipped on|over|in|about|across|at [the] Q -> mirror of P over Q
mirror|mirrored|reflect|reflected|flip [of] P on|over|in|about|across|at|along [the] Q -> mirror of P over Q
P moved|shifted|move|shift [by] D L -> P moved L D
P shifted|move|shift [by] L -> P moved L
P turned|rotated|rotate|turn about|round|around|on Q by L -> P turned L about Q
P turned|rotated|rotate|turn about|round|around|on Q L degrees -> P turned L degrees about Q
P rotated|rotate|turn [by] L about|round|around Q -> P turned L about Q
L around|round Q -> L about Q
start|beginning P -> start of P
beginning of -> start of
# lines
line [from] P through|and|with|into|-|, Q -> line P to Q
line from P to D L -> line from P D L
parallel line|curve [to] P -> parallel to P
line joining|connecting P and|to|with Q -> line P to Q
straight|connect|connecting [line] [from] P to|and|- Q -> line P to Q
join|connect|draw [a] [line] [from] P and|to Q $ -> line P to Q
line between P and Q -> line P to Q
^ N = P to Q $ -> N = line P to Q
line from P D -> line from P D
[smooth] curve [line] [from|through|between] P to|through|and Q to|through|and R $ -> curve P, Q, R
[smooth] curve [line] [from|through|between] P to|through|and Q -> curve P, Q
smooth curve -> curve
curve from|through|between|starting|beginning [at|from] P -> curve P
starting|start|begin|beginning|leave|leaves|departing|going D -> leaving D
arrive|arrives|ending|finishing|end|reaching D -> arriving D
square|right [to] angle|angles [to|with] P -> square to P
parallel P -> parallel to P
L parallel to|with P D $ -> parallel to P, L D
L D parallel to|with P -> parallel to P, L D
L parallel to P , D -> parallel to P, L D
parallel with -> parallel to
arc|circle around|round|with|centre|center|at [centre|center] P -> \\1 about P
radius of|=|is L -> radius L
of|with radius L -> radius L
clockwise|anticlockwise turning|turn L -> turning L \\1
counterclockwise|anti-clockwise|counter-clockwise -> anticlockwise
[the] reverse|reversed|backwards [of] P -> P
# conditions, tables and checks
is the same as -> =
P is L $ -> P = L
^ N is|are|equals|be|becomes|:=|==|: -> N =
equals|equal|== [to] [the] [same] [as] -> =
is|are|must|should [be] bigger|greater|larger|longer|over|above than -> is more than
bigger|greater|larger|longer than|then -> more than
is|are|must|should [be] smaller|shorter|under|below than -> is less than
smaller|shorter than|then -> less than
[is] not more|bigger|greater|longer than -> at most
[is] not less|smaller|shorter than -> at least
atleast|min -> at least
atmost|max -> at most
^ if|unless -> when
^ else|elseif|elif|otherwise [:] $ -> otherwise
then|: $ -> 
[such] that|until|where|so -> so that
find N from|in|within|of L to|and|- M -> find N between L and M
find N between L to|- M -> find N between L and M
under|below|till|until|less|< [than] L -> up to L
over|more|> [than] L -> above L
else|rest|others -> otherwise
from L to M -> between L and M
check that|: -> check
^ make sure [that] -> check
^ L should|must|has [to] [be] -> check L
# pieces
new sheet|page|piece|papers T -> new paper T
^ paper|sheet|page T -> new paper T
^ new|make|draw [a] piece N -> piece N
N = piece -> piece N
cut once|one -> cut 1
cut twice|two|pair -> cut 2
cut three -> cut 3
cut four -> cut 4
cut L x|times|pieces|off -> cut L
cut x L -> cut L
cut 1|one pair -> cut 2
cut a pair -> cut 2
cut on|of -> cut 1 \\1
L x -> cut L
, L on fold -> , cut L on fold
, L of N -> , cut L of N
on folded|a|the fold -> on fold
cut in|from N $ -> of N
fabric|material [is] N -> of N
alike|same [way] -> alike
N = P to -> N: P to
: from P -> : P
: P and|- Q -> : P to Q
on the|a fold $ -> , fold
grain|grainline [line] [is|parallel|follows|runs|:] [to|along|from|with] P -> grain along P
grain|grainline [line] [is|:] from P to Q -> grain P to Q
notch on|at E at P -> notch E at P
notch at P on N -> notch N at P
E notch at P -> notch E at P
mark [a] button|buttonhole [at] P -> mark P \\1
mark [a] drill hole [at] P -> mark P drill hole
^ button|buttonhole at P -> mark P \\1
^ drill hole at P -> mark P drill hole
as fold|stitch|placement|guide|pleat $ -> as \\1 line
foldline -> fold line
stitchline|stitching -> stitch line
guideline -> guide line
pleatline -> pleat line
draw [a] line|curve P -> draw P
# darts, allowances and seams
dart on|in|at|to E -> dart E
^ sew [the] N of [the] P to|and|with [the] R of [the] Q -> sew P.N to Q.R
^ dart|extend|square|redraw|shape [in|on|at] [the] N of [the] P -> \\1 P.N
, in|at|on [the] middle|centre|center -> , middle at halfway
dart E in|at|on [the] middle|centre|center -> dart E, middle at halfway
dart E [,] middle at L from P -> dart E, middle at (L along E from P)
dart E at L from P -> dart E, middle at (L along E from P)
centre|center|centred|centered|middle|mid at|on|in -> middle at
dart E at P -> dart E, middle at P
dart E at halfway -> dart E, middle at halfway
middle halfway -> middle at halfway
pointing [to|at|toward|towards] P -> point at P
width|wide|take|takes|taking|size|depth [of|is] L -> intake L
L wide|intake|width|deep -> intake L
L long|length -> length L
intake|length|depth|radius =|:|of L -> \\1 L
pressed|press|folded|turned to|towards -> fold to
^ seams|edges L -> allow L
^ seam [_] allowance|allowances [is|of|=|:] L -> allow L
^ allowance|allowances [is|of|=|:] L -> allow L
^ allow N =|: L -> allow N L
, N =|:|of|is L -> , N L
, L N -> , N L
, L at|on [the] N -> , N L
everywhere|overall ->
all round|around ->
^ join|stitch|seam|attach E to|and|with|on|onto F -> sew E to F
sew E and|with|on|onto|into F -> sew E to F
[with|and] ease|easing [of|is] L -> , ease L
eased [by|in] L -> ease L
gather|gathers|gathering -> gathered
# paper work
^ slash|slit|cut N along|on|at P in|to|into Q and|, -> cut N along P into Q,
into two|three|pieces|parts [pieces|parts] [:] -> into
^ divide|split|part|separate N -> cut N
close|shut [the] dart E -> close E
^ N = trace|tracing [from|off] P -> trace N from P
remove|delete|discard|throw [away] [the] N [piece] -> discard N
cut N on|at P into -> cut N along P into
cut N from P to Q in|to|into R and|, -> cut N from P to Q into R,
piece N [,] title|called|named T -> piece N T
piece N [,] T -> piece N T
pivot|turning|rotating|hinging|hinged|pivoted [at|on|about|round|around] P -> pivoting on P
open|opens|opened|moving [at|up] P -> opening P
slash|slashed [and] spread -> spread
slash N along -> spread N, along
^ pleat P -> pleat P
knife|box|inverted pleat L deep -> \\1 pleat, depth L
L deep|depth -> depth L
depth =|of|: L -> depth L
knife|box|inverted pleats -> \\1 pleat
fold L out of N -> fold out N, L
nothing|none|zero|nil|0 at -> nothing at
called N $ -> as N
tape|join|stick E with|and F -> tape E to F
lengthen|shorten N by L at|along P -> \\1 N at P by L
lengthen|shorten N at|along P L -> \\1 N at P by L
lengthen|shorten N L at|along P -> \\1 N at P by L
L wide|deep from N -> L from N
L broad|wide -> L
trace N off|of|on P -> trace N from P
unfold N along|at|over P -> unfold N on P
extend E L -> extend E by L
extend E with L -> extend E by L
"""

_GIVEN = re.compile(r"[P-RLMEFDNTJK]")

_DOTTED = rf"(?<![\w.]){NAME}\.{NAME}(?![\w.])"
_NAME = rf"(?<![\w.]){NAME}(?![\w.])"
_FIGURE = r"(?<![\w.])(?:\d+\s+\d+\s*[/⁄]\s*\d+|\d+\s*[/⁄]\s*\d+|\d+[.,]\d+|\d*\s*[½¼¾⅛⅜⅝⅞⅓⅔]|\d+)"
_LENGTH = rf"{_FIGURE}(?:\s*(?:mm|cm|inches|inch|in|m|ft|degrees?)\b|\s*[\"″”°%])?"
_POINT = rf"(?:\([^()]*\)|{_DOTTED}|{_NAME})"
_FACTOR = rf"(?:\([^()]*\)|{_LENGTH}|{_DOTTED}|{_NAME})"
_SUM = rf"{_FACTOR}(?:\s*[-−+*×/÷]\s*{_FACTOR})*"
_KINDS = {
    **dict.fromkeys("PQR", _POINT),
    **dict.fromkeys("LM", _SUM),
    **dict.fromkeys("EF", _DOTTED),
    "D": r"\b(?:up|down|left|right|across)\b",
    "J": rf"{_FIGURE}(?!\s*[^\W\d]{{1,4}}\b)",  # A short word is more likely a unit than a name.
    "K": rf"{_FIGURE}(?![\w.]|\s*(?:mm|cm|inches|inch|in|m|ft|degrees?)\b|\s*[\"″”°%])",
    "N": _NAME,
    "T": '"q\\d+"',
}
"""What each capital of the table stands for."""


class Saying:
    """A row of the table."""

    def __init__(self, said: str, write: str) -> None:
        self.said, self.write = said.split(), write.strip()
        self.literal = [
            frozenset(token.split("|"))
            for token in self.said
            if not token.startswith("[") and re.match(rf"{LETTER}{{2}}", token)
        ]

    def ways(self, line: str, words: frozenset[str], no_names: frozenset[str]) -> Iterator[str]:
        """The line with what is said put as it is written, at each place where it is found.

        `words` are those of the line; `no_names` those that stand for no name.
        """
        if any(words.isdisjoint(some) for some in self.literal):
            return
        at = 0
        while found := self.pattern.search(line, at):
            at = found.start() + 1
            if not any(found[group] in no_names for group in self.names):
                yield f"{line[: found.start()]} {found.expand(self.writes)} {line[found.end() :]}"

    @cached_property
    def pattern(self) -> re.Pattern[str]:
        return self._compiled[0]

    @property
    def writes(self) -> str:
        """The template for `expand`."""
        return self._compiled[1]

    @property
    def names(self) -> tuple[int, ...]:
        """Groups that may stand for a name."""
        return self._compiled[2]

    @cached_property
    def _compiled(self) -> tuple[re.Pattern[str], str, tuple[int, ...]]:
        groups: dict[str, int] = {}
        names: list[int] = []
        pattern = ""
        count = alternatives = 0
        for token in self.said:
            optional = token.startswith("[")
            bare = token.strip("[]")
            if bare in ("^", "$"):
                pattern += r"^\s*" if bare == "^" else r"\s*$"
            elif _GIVEN.fullmatch(bare):
                count += 1
                groups[bare] = count
                names += [count] if bare in "PQRLMN" else []
                pattern += f"({_KINDS[bare]})\\s*"
            else:
                one = "|".join(map(_word, bare.split("|")))
                if "|" in bare and not optional:
                    count, alternatives = count + 1, alternatives + 1
                    groups[f"\\{alternatives}"] = count
                    pattern += f"({one})\\s*"
                else:
                    pattern += f"(?:(?:{one})\\s*){'?' if optional else ''}"
        given = re.compile(r"\\\d|(?<!\w)[P-RLMEFDNTJK](?!\w)")
        out = given.sub(lambda found: rf"\g<{groups[found[0]]}>", self.write)
        return re.compile(pattern), out, tuple(names)


def _word(way: str) -> str:
    before = r"(?<![^\W\d])(?<!\.)" if re.match(LETTER, way) else ""
    after = r"(?![\w.])" if re.search(rf"{LETTER}$", way) else ""
    return before + re.escape(way) + after


SAYINGS = tuple(
    Saying(*row.split("->", 1)) for row in _TABLE.split("\n") if "->" in row and not row.startswith("#")
)

SPOKEN = frozenset(word for saying in SAYINGS for some in saying.literal for word in some)
"""Words of the table's left side."""
