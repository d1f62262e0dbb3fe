"""Body weight as people write it. Exact: 1 lb = 0.45359237 kg (NIST SP 811, appendix B); 1 st = 14 lb."""

from __future__ import annotations

import re

POUND = 0.45359237
_NUMBER = r"(\d+(?:[.,]\d+)?)"
_KILOGRAMS = re.compile(
    _NUMBER + r"\s*(?:kg|kgs|kilo|kilos|kilogram|kilograms|kilogrammes)\.?", re.IGNORECASE
)
_POUNDS = re.compile(_NUMBER + r"\s*(?:lb|lbs|pound|pounds)\.?", re.IGNORECASE)
_STONES = re.compile(
    _NUMBER + r"\s*(?:st|stone|stones)\.?(?:\s*" + _NUMBER + r"\s*(?:(?:lb|lbs|pound|pounds)\.?)?)?",
    re.IGNORECASE,
)


def parse_weight(text: str) -> float | None:
    """Kilograms written as `62 kg`, `137 lb`, `9 st 7 lb` or `9 st 7`; None when it is no weight."""
    text = text.strip()
    if len(text) > 40:
        return None
    if found := _KILOGRAMS.fullmatch(text):
        return _value(found[1])
    if found := _POUNDS.fullmatch(text):
        return _value(found[1]) * POUND
    if found := _STONES.fullmatch(text):
        return (_value(found[1]) * 14 + _value(found[2] or "0")) * POUND
    return None


def _value(text: str) -> float:
    return float(text.replace(",", "."))
