"""Pages looked at by axe-core (Deque, MPL 2.0): rules of WCAG 2.0 to 2.2, A and AA, and its best practices.

What it takes grows with the elements of a page, of which most stand in rows that are built alike: edges, workings,
words of the handbook, lines of a drawing. It judges an element by its name, attributes, looks and surroundings, so of
what stands beside each other and is the same in all of these it is shown the first two; with --thorough everything.
What is different in each, which elements they refer to, is tried for all of them here.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from tests.extent import THOROUGH

REFERENCES = """() => {
    const referring = ['for', 'headers', 'aria-labelledby', 'aria-describedby', 'aria-controls', 'aria-owns',
        'aria-details', 'aria-errormessage', 'aria-activedescendant'];
    const lost = [];
    for (const name of referring)
        for (const element of document.querySelectorAll(`[${name}]`))
            for (const id of element.getAttribute(name).split(/\\s+/))
                if (!document.getElementById(id)) lost.push(element.outerHTML.slice(0, 120));
    return lost;
}"""

LEAVE_OUT_DRAWN = """() => {
    const speaks = 'title, desc, a, style, image, foreignObject, [role], [tabindex], [lang]';
    for (const element of document.querySelectorAll('svg[role=img] *, svg[aria-hidden=true] *'))
        if (element.isConnected && !element.parentElement.closest('a, foreignObject')
            && ![element, ...element.querySelectorAll('*')].some(each => each.matches(speaks)
                || [...each.attributes].some(a => /^(aria-|on)/.test(a.name)))) element.remove();
}"""
"""Lines and words of drawings: no rule is about lines, and it can't tell whether words drawn on them stand out."""

LEAVE_OUT_REPETITIONS = """() => {
    const own = ['id', 'for', 'list', 'headers', 'href', 'src', 'srcset', 'alt', 'title', 'value', 'name', 'content',
        'aria-label', 'aria-labelledby', 'aria-describedby', 'aria-controls', 'datetime', 'viewBox', 'width', 'height',
        'font-size'];
    const landmark = 'main, nav, aside, section, form, header, footer';
    const looks = ['color', 'backgroundColor', 'opacity', 'fontSize', 'fontWeight', 'display', 'visibility',
        'position'];
    const kinds = new Map(), parts = new Map();
    const kind = element => {
        const text = [...element.childNodes].some(n => n.nodeType === Node.TEXT_NODE && n.data.trim());
        const attributes = [...element.attributes].filter(a => !a.name.startsWith('data-')).map(a =>
            a.name + '=' + (own.includes(a.name) ? Boolean(a.value.trim()) : a.value));
        const style = getComputedStyle(element), scrolls = /auto|scroll/.test(style.overflow)
            && (element.scrollWidth > element.clientWidth || element.scrollHeight > element.clientHeight);
        const shown = element instanceof SVGElement ? [] : looks.map(look => style[look]);
        return [element.localName, text, scrolls, ...shown, ...attributes.sort()].join(' ');
    };
    const gather = element => {
        const mine = kind(element), all = new Set([mine]);
        kinds.set(element, mine);
        for (const child of element.children) {
            for (const part of gather(child)) all.add(part);
            all.add(mine + ' > ' + kinds.get(child));
        }
        parts.set(element, all);
        return all;
    };
    const thin = element => {
        const met = new Map();
        for (const child of [...element.children]) {
            const all = [...parts.get(child)];
            if (all.every(part => met.get(part) >= 2) && !child.matches(landmark) && !child.querySelector(landmark)) {
                child.remove();
                continue;
            }
            all.forEach(part => met.set(part, (met.get(part) || 0) + 1));
            thin(child);
        }
    };
    gather(document.body);
    thin(document.body);
}"""
"""What is built of nothing but what two before it beside it are built of; landmarks stay, as each must have a name of
its own."""

RUN = """() => axe.run(document, {resultTypes: ['violations']}).then(found =>
    [found.passes.length, found.violations.map(v => [v.id, v.nodes.map(n => n.html.slice(0, 120))])])"""
"""Every rule is tried, but the elements that are right are not all described, which takes longer than to look at
them."""


@cache
def axe_core() -> str:
    """The program that looks at a page."""
    from axe_playwright_python.sync_playwright import Axe

    return Axe().axe_script


def faults(page: Any, *, whole: bool = THOROUGH) -> list[tuple[str, list[str]]]:
    """The rules that the page (Playwright's `Page`) breaks, and the beginnings of the elements that break each.

    The page is of no use after it: repetitions are taken away, unless the `whole` page is looked at.
    Its own policy must let axe-core in.
    """
    lost = page.evaluate(REFERENCES)
    if not whole:
        page.evaluate(LEAVE_OUT_DRAWN)
        page.evaluate(LEAVE_OUT_REPETITIONS)
    page.evaluate(axe_core())
    passed, found = page.evaluate(RUN)
    assert passed > 15, "axe-core looked at next to nothing"
    return [*([("reference", lost)] if lost else []), *((rule, elements) for rule, elements in found)]
