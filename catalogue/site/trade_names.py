"""Other names of garments and of what they are made of, in British, American and everyday use, for the search."""

from __future__ import annotations

import re

SAME = (
    # Common practice, no source; each row is one thing.
    "straight skirt, pencil skirt, tube skirt",
    "gored skirt, panelled skirt, paneled skirt, flared skirt, A-line skirt",
    "circle skirt, circular skirt, skater skirt, flared skirt",
    "waistcoat, vest, gilet",
    "trousers, pants, slacks",
    "dungarees, overalls, bib and brace",
    "pinafore, jumper dress, pinafore dress",
    "apron, pinny, smock",
    "robe, dressing gown, bathrobe, housecoat, wrapper",
    "cape, cloak, capelet",
    "coat, overcoat, topcoat",
    "notched collar, step collar, tailored collar, lapels, revers",
    "shirt dress, shirtwaister, shirtwaist dress",
    "princess, princess line, princess seams, panelled dress, fitted dress",
    "dress, frock, gown",
    "blouse, ladies' shirt, top",
    "bodice, top",
    "block, sloper, foundation, master pattern",
    "shirt, button-down, button-up, dress shirt",
    "armhole, armscye, scye",
    "toile, muslin, mock-up, calico",
    "braces, suspenders",
    "zip, zipper",
    "tack, baste",
    "cloth, fabric, material",
    "interfacing, fusing, fusible",
    "selvedge, selvage",
    "children, kids",
    "child, kid",
    "centre, center",
    "sleeve cap, sleeve head",
    "yoke, shoulder piece",
    "turn-up, turnup, cuff of trousers",
    "women, ladies, womenswear",
    "men, gentlemen, menswear",
    "girls, girlswear",
    "boys, boyswear",
)
_GROUPS = tuple(tuple(name.strip() for name in row.split(",")) for row in SAME)
_PATTERNS = tuple(
    (re.compile(r"\b(?:" + "|".join(re.escape(name) for name in names) + r")\b", re.IGNORECASE), names)
    for names in _GROUPS
)


def other_names(text: str) -> tuple[str, ...]:
    """Names that the text does not have, of things that it names."""
    found = (name for pattern, names in _PATTERNS if pattern.search(text) for name in names)
    low = text.casefold()
    return tuple(dict.fromkeys(name for name in found if name.casefold() not in low))
