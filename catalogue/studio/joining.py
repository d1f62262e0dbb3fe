"""The styles of a studio joined with the blocks that they are cut from."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path

from catalogue.findings import BLOCK_FAILS, Finding, Place, did_you_mean
from catalogue.people import REGISTER, Register
from catalogue.slugs import slugify
from catalogue.sorting import in_order
from catalogue.studio.measured import Used, used_measurements
from catalogue.studio.reading import read_style
from catalogue.studio.style import CutFrom, Stated, Style

DEEPEST = 8
"""Blocks cut from one another: foundation, block, jacket, its lining and so on; more is a mistake."""


def joined(styles: Iterable[Style]) -> tuple[Style, ...]:
    """The styles in their order, each with its blocks; what is wrong with them is among its findings.

    A style that has a block needs the block's measurements too, and its digest changes with the block's.
    """
    every = {style.slug: style for style in styles}
    into = _cut_into(every)
    every = {
        slug: replace(style, cut_into=into[slug]) if into[slug] else style for slug, style in every.items()
    }
    done: dict[str, Style] = {}
    depth: dict[str, int] = {}
    left = dict(every)
    while left:
        ready = [s for s in left.values() if not any(b.slug in left for b in s.cut_from)]
        circles = {} if ready else {s.slug: found for s in left.values() if (found := _circle(s, left))}
        for style in ready or [left[slug] for slug in circles]:
            wrong = _wrong(style, every, done, depth, circles.get(style.slug, ()))
            done[style.slug] = _with_blocks(style, done, wrong)
            depth[style.slug] = 1 + max((depth[b.slug] for b in style.cut_from if b.slug in depth), default=0)
        for slug in done:
            left.pop(slug, None)
    return tuple(done[slug] for slug in every)


def _cut_into(every: Mapping[str, Style]) -> dict[str, frozenset[str]]:
    """By slug: the slugs of the styles that are cut from it, by way of others too."""
    nearest: dict[str, set[str]] = {slug: set() for slug in every}
    for slug, style in every.items():
        for block in style.cut_from:
            if block.slug in nearest:
                nearest[block.slug].add(slug)
    found = {}
    for slug in every:
        seen: set[str] = set()
        waiting = list(nearest[slug])
        while waiting:
            other = waiting.pop()
            if other not in seen:
                seen.add(other)
                waiting += nearest[other]
        found[slug] = frozenset(seen)
    return found


def read_with_blocks(path: Path, root: Path, register: Register = REGISTER) -> Style:
    """The style in the file at `path`, with the blocks it is cut from, which lie beside it."""
    style = read_style(path, root, register)
    if not style.cut_from:
        return style
    every = {style.slug: style}
    for other in sorted(path.parent.glob("*.md")):
        every.setdefault(slugify(other.stem), read_style(other, root, register))
    return next(each for each in joined(every.values()) if each.slug == style.slug)


def _circle(style: Style, among: Mapping[str, Style]) -> tuple[str, ...]:
    """The slugs from a style back to itself, where it is cut from itself by way of others; the shortest way."""
    before: dict[str, str] = {}
    waiting = [style.slug]
    for slug in waiting:
        for block in among[slug].cut_from:
            if block.slug == style.slug:
                way = [slug]
                while way[-1] != style.slug:
                    way.append(before[way[-1]])
                return (*reversed(way), style.slug)
            if block.slug in among and block.slug not in before:
                before[block.slug] = slug
                waiting.append(block.slug)
    return ()


def _wrong(
    style: Style,
    every: Mapping[str, Style],
    done: Mapping[str, Style],
    depth: Mapping[str, int],
    circle: tuple[str, ...],
) -> dict[str, Finding]:
    """By the names that the style has for its blocks: what is wrong with each, where it can't be cut from it."""

    def finding(code: str, message: str, place: Place, hint: str = "") -> Finding:
        return Finding(code, message, place, hint, source=style.source_line(place.line)[:200])

    found: dict[str, Finding] = {}
    for each in style.cut_from:
        block = done.get(each.slug)
        if each.slug not in every:
            folder = style.file.rpartition("/")[0]
            near = did_you_mean(each.slug, [slug for slug in every if slug != style.slug])
            found[each.name] = finding(
                "no-such-block",
                f"There is no style “{each.slug}” here to be cut from.",
                each.place,
                near or f"Its file would be {folder + '/' if folder else ''}{each.slug}.md.",
            )
        elif circle and each.slug == circle[1]:
            way = ", which is cut from ".join(f"“{slug}”" for slug in circle[1:])
            found[each.name] = finding(
                "cut-from-itself",
                f"“{style.slug}” is cut from {way}: no style can be cut from itself.",
                each.place,
                "Move what both need into a block of its own.",
            )
        elif block is None:
            continue  # It is in a circle by another of its blocks, which is told.
        elif not block.ok:
            found[each.name] = _block_fails(block)
        elif depth[each.slug] >= DEEPEST:
            way = " from ".join(f"“{slug}”" for slug in (style.slug, *_deepest(block, depth)))
            found[each.name] = finding(
                "too-deep",
                f"More than {DEEPEST} styles are cut from one another: {way}.",
                each.place,
                "Cut it from a block nearer to the first.",
            )
        else:
            found |= _wrong_choices(style, each, block)
    return found


def _deepest(style: Style, depth: Mapping[str, int]) -> tuple[str, ...]:
    """The slugs of the longest chain that begins with a style."""
    way = [style]
    while way[-1].blocks:
        way.append(max(way[-1].blocks.values(), key=lambda block: depth[block.slug]))
    return tuple(each.slug for each in way)


def _block_fails(block: Style) -> Finding:
    """The first error of a block, told on a style that is cut from it."""
    first = next(f for f in block.findings if f.is_error)
    return first if first.code == BLOCK_FAILS else block_fails(block, first)


def block_fails(block: Style, first: Finding) -> Finding:
    """That a style can't be cut from a block, for a mistake in the block."""
    message = first.message[:1].lower() + first.message[1:] if first.message[:1].isalpha() else first.message
    return replace(
        first,
        code=BLOCK_FAILS,
        message=f"The block “{block.title}” can't be drafted: {message}",
        place=first.place or Place(block.file),
    )


def _wrong_choices(style: Style, cut: CutFrom, block: Style) -> dict[str, Finding]:
    known = {choice.name for choice in block.choices}
    for stated in cut.stated:
        if stated.choice not in known:
            listed = f"Its choices: {', '.join(in_order(known))}." if known else "It has none."
            return {
                cut.name: Finding(
                    "unknown-choice",
                    f"The block “{block.title}” has no choice “{stated.choice}”.",
                    stated.place,
                    did_you_mean(stated.choice, known) or listed,
                    source=style.source_line(stated.place.line)[:200],
                )
            }
    return {}


def _with_blocks(style: Style, done: Mapping[str, Style], wrong: Mapping[str, Finding]) -> Style:
    if not style.cut_from:
        return style
    blocks = {b.name: done[b.slug] for b in style.cut_from if b.name not in wrong and b.slug in done}
    stated = _stated_measurements(style, blocks)
    needs = dict.fromkeys((*style.needs, *(key for key in stated.needs if key not in style.given)))
    for block in blocks.values():
        needs |= dict.fromkeys(key for key in block.needs if key not in block.receives_needs)
    parts = (style, *blocks.values())
    groups = tuple(dict.fromkeys(g for part in parts for g in part.alternatives if not set(g) & set(needs)))
    asked = {*needs, *(key for group in groups for key in group)}
    others = (key for part in parts for key in (*part.optional, *(k for g in part.alternatives for k in g)))
    made_from = (
        style.digest,
        *(f"{name}={block.digest}" for name, block in blocks.items()),
        *(f"{finding.place} {finding.message} {finding.hint}" for finding in wrong.values()),
    )
    return replace(
        style,
        blocks=blocks,
        needs=tuple(needs),
        alternatives=groups,
        optional=tuple(dict.fromkeys(key for key in others if key not in asked)),
        findings=(*style.findings, *dict.fromkeys(wrong.values())),
        digest=hashlib.sha256("\n".join(made_from).encode()).hexdigest(),
        everyday={n: k for n, k in stated.everyday.items() if n not in style.given} | dict(style.everyday),
    )


def _stated_measurements(style: Style, blocks: Mapping[str, Style]) -> Used:
    """The measurements in what a style states for its blocks; words to choose from are none."""
    trees = [
        stated.tree
        for cut in style.cut_from
        if cut.name in blocks
        for stated in cut.stated
        if not is_word(stated, blocks[cut.name])
    ]
    return used_measurements(trees, (), style.register)


def is_word(stated: Stated, block: Style) -> bool:
    """Whether what is stated is one of the words that a choice of the block allows."""
    choice = next(c for c in block.choices if c.name == stated.choice)
    return bool(choice.options)
