"""Signs of other trades and how they are written in the language; a line set out as one writes it."""

from __future__ import annotations

import re

from catalogue.language.letters import LETTER, NAME

COUNTS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
"""Numbers in words, from one."""

OTHER_SIGNS = tuple(
    (re.compile(pattern), better)
    for pattern, better in (
        (r"[.;:]\s*$", ""),
        (r";\s*(?=\S)", ", "),
        (r"\b(cm|mm|in|m|ft)\.(?=\s|,|$)", r"\1"),
        (r"\[([^\]]*)\]", r"(\1)"),
        (r"\{([^}]*)\}", r"\1"),
        (r":=|==|=\s*=", "="),
        (r"=>", ">="),
        (r"=<", "<="),
        (r"['‘’`]([^'‘’`]*)['‘’`]", r'"\1"'),
        (r"(\d+)\s*['’′]\s*(\d+)\s*[\"”″]", r"\1 ft + \2 in"),
        (r"(\d+)\s*ft\s+(\d)", r"\1 ft + \2"),
        (r"(\d),(\d{3})\.(\d)", r"\1\2.\3"),
        (r"(\d+)\s*(?:%|per cent)\s+of\s+", r"\1% * "),
        (r"\bmax\w*\s*\(([^,()]*),([^,()]*)\)", r"larger of \1 and \2"),
        (r"\bmin\w*\s*\(([^,()]*),([^,()]*)\)", r"smaller of \1 and \2"),
        (r"\bsqrt\s*\(", "square root of ("),
        (rf"(\d|{LETTER})\s+[xX]\s+(?=[\d\w])", r"\1 * "),
        (r"\s*(?:->|→)\s*", " to "),
        *((rf"\b{word}\s+(?=(?:mm|cm|inches|inch|in|m|ft)\b)", f"{n} ") for n, word in enumerate(COUNTS, 1)),
        (r"[$@&]\s*(?=[^\W\d_])", ""),
        (r"[«»„“”]", '"'),
        (r'^([^"]*(?<![\d\s])\s*"[^",]*)(,[^"]*)?$', r'\1"\2'),
        (r"^\s*(?:let|set|put|make|define|var)\s+", ""),
        (rf"\b({NAME})\s*(?:\^\s*2|\*\*\s*2|²)", r"\1 * \1"),
    )
)


def tidy(line: str) -> str:
    """Single blanks, commas and colons close to the word before them."""
    line = re.sub(r"\s+([,)])", r"\1", " ".join(line.split()))
    line = re.sub(r",(?=\S)", ", ", line) if not re.search(r"\d,\d", line) else line
    line = re.sub(r"\(\s+", "(", line)
    line = re.sub(r"(?<=\w)=(?=\s)", " =", line)
    return re.sub(rf"({NAME})\s+:", r"\1:", line)
