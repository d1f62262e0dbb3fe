"""Sets of choices in a client's file that a draft is to be compared with: under compare:, by style and name."""

from __future__ import annotations

from collections.abc import Mapping

from catalogue.findings import Place, Severity
from catalogue.frontmatter import FrontEntry
from catalogue.people.client import Chosen, OptionSet
from catalogue.people.front import FrontReader, choice_name
from catalogue.slugs import slugify

MOST_SETS = 6
"""Sets of one style that are drafted."""
_HINT = "Write the style's name, below it a name for each set of choices, such as longer:, and below that the choices."


def read_option_sets(
    reader: FrontReader,
) -> tuple[dict[str, tuple[OptionSet, ...]], dict[str, Place]]:
    """The sets by the style's slug, and where each style stands; what is wrong is noted by the `reader`.

    It stops no draft: what is asked for is more than the draft itself.
    """
    entry = reader.front.mapping.get("compare")
    if entry is None or entry.text == "":
        return {}, {}
    if entry.mapping is None:
        _not_a_group(reader, "compare", entry)
        return {}, {}
    found: dict[str, tuple[OptionSet, ...]] = {}
    places: dict[str, Place] = {}
    for style, group in entry.mapping.items():
        places.setdefault(slugify(style), group.key_place)
        if group.mapping is None:
            if group.text != "":
                _not_a_group(reader, style, group)
            continue
        sets = {each.slug: each for each in found.get(slugify(style), ())}
        over: list[FrontEntry] = []
        for name, each in group.mapping.items():
            if len(sets) >= MOST_SETS and each.mapping:
                over.append(each)
            elif one := _one(reader, " ".join(name.split())[:80], each, sets):
                sets[one.slug] = one
        if over:
            count = f"this set and {len(over) - 1} below it are" if over[1:] else "this set is"
            message = f"{count} not drafted: {MOST_SETS} sets of choices of a style are compared at most"
            reader.add("too-many-sets", message, over[0].key_place, "", Severity.WARNING, about=())
        found[slugify(style)] = tuple(sets.values())
    return {style: sets for style, sets in found.items() if sets}, places


def _one(
    reader: FrontReader, name: str, entry: FrontEntry, before: Mapping[str, OptionSet]
) -> OptionSet | None:
    if entry.text == "":
        return None
    if entry.mapping is None:
        _not_a_group(reader, name, entry)
        return None
    slug = slugify(name)
    if slug in before:
        message = f"there is a set “{before[slug].name}” already"
        reader.add("twice", message, entry.key_place, "Give one of the two another name.", about=())
        return None
    choices: dict[str, Chosen] = {}
    for key, value in entry.mapping.items():
        if not value.text:
            reader.add("not-a-text", f"“{key}” must be one value, not {value.kind}", value.place, about=())
        elif (known := choice_name(key)) in choices:
            line = choices[known].key_place.line
            message = f"“{key}” is already chosen on line {line}"
            reader.add("twice", message, value.key_place, "Keep one of the two.", about=())
        else:
            choices[known] = Chosen(" ".join(value.text.split()), value.place, value.key_place)
    texts = {key: chosen.text for key, chosen in choices.items()}
    for each in before.values():
        if choices and texts == {key: chosen.text for key, chosen in each.choices.items()}:
            message = f"“{name}” has the same choices as “{each.name}”, so there is nothing to compare"
            reader.add("set-twice", message, entry.key_place, "", Severity.WARNING, about=())
            return None
    return OptionSet(slug, name, entry.key_place, choices) if choices else None


def _not_a_group(reader: FrontReader, key: str, entry: FrontEntry) -> None:
    message = f"“{key}” must be names with values, not {entry.kind}"
    reader.add("not-a-group", message, entry.place, _HINT, about=())
