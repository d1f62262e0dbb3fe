"""Prose: Markdown made into HTML once per style, and the client's figures put into it afterwards.

Text comes from style and client files, so it is never trusted: raw HTML stays text, and only links and pictures
that can do no harm are kept.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any
from urllib.parse import unquote, urlsplit

from markdown_it import MarkdownIt
from markdown_it.token import Token
from markupsafe import Markup, escape
from mdit_py_plugins.tasklists import tasklists_plugin

from catalogue.drawing.sketch import sketch_svg
from catalogue.site.markdown_bounds import bound
from catalogue.studio.sketches import caption_of, read_sketch

LINK_SCHEMES = {"", "http", "https", "mailto", "tel"}
"""Schemes a link may have; "" is a relative link."""

PICTURES = "pictures"
"""Folder of the site that holds the pictures of style files, laid out as they are beside the style files."""

_ROOT = "\ue002"  # stands for the way back to the site's root, which differs from page to page
_SLOT = re.compile("\ue000(\\d+)\ue001")
_TAG = re.compile(r"<[^>]*>")
_OURS = re.compile("[\ue000-\ue002]")


@dataclass(frozen=True, slots=True)
class Rendered:
    """HTML of one stretch of prose, cut at its slots.

    Attributes:
        parts: HTML texts, and between them (index of the formula, whether it stands inside a tag).
        pictures: pictures it shows, as paths relative to the style file.
    """

    parts: tuple[str | tuple[int, bool], ...]
    pictures: tuple[str, ...] = ()

    def filled(self, rendered: Mapping[int, str], formulas: Mapping[int, str], root: str = "") -> Markup:
        """The HTML with each slot replaced by its value.

        Args:
            rendered: the client's value by formula index.
            formulas: the formula in words, shown where there is no value.
            root: way from the page to the site's root ("../../").
        """
        out: list[str] = []
        for part in self.parts:
            if isinstance(part, str):
                out.append(part.replace(_ROOT, root))
                continue
            index, inside_tag = part
            formatted = rendered.get(index)
            text = str(escape(formatted if formatted is not None else formulas.get(index, "…")))
            if inside_tag:
                out.append(text)
            elif formatted is not None:
                out.append(f'<span class="figure-value">{text}</span>')
            else:
                out.append(f'<span class="figure-formula">{text}</span>')
        return Markup("".join(out))


@lru_cache(maxsize=64)
def render(markdown: str, slots: bool = False) -> Rendered:
    """Markdown as HTML, kept for a while: a client's notes stand on the page of each style.

    `slots` keeps the placeholders of formulas; without it they are dropped as noise.
    """
    if not slots:
        markdown = _OURS.sub("", markdown)
    env: dict[str, Any] = {"pictures": []}
    html = _parser().render(markdown.replace(_ROOT, ""), env)
    return Rendered(tuple(_cut(html)), tuple(env["pictures"]))


def plain(markdown: str, root: str = "") -> Markup:
    """Markdown without formulas (a client's notes) as HTML."""
    return render(markdown).filled({}, {}, root)


def _cut(html: str) -> list[str | tuple[int, bool]]:
    tags = [m.span() for m in _TAG.finditer(html)]
    parts: list[str | tuple[int, bool]] = []
    at = tag = 0
    for slot in _SLOT.finditer(html):
        while tag < len(tags) and tags[tag][1] <= slot.start():
            tag += 1
        inside = tag < len(tags) and tags[tag][0] < slot.start()
        parts += [html[at : slot.start()], (int(slot[1]), inside)]
        at = slot.end()
    parts.append(html[at:])
    return parts


@lru_cache(maxsize=1)
def _parser() -> MarkdownIt:
    parser = MarkdownIt("js-default", {"html": False, "linkify": False, "typographer": False})
    parser.enable(["table", "strikethrough"])
    parser.use(tasklists_plugin, enabled=True, label=True)
    bound(parser)
    parser.validateLink = _is_harmless  # type: ignore[method-assign, assignment]
    parser.add_render_rule("image", _image)
    parser.add_render_rule("fence", _fence)
    parser.add_render_rule("link_open", _link_open)
    parser.add_render_rule("heading_open", _heading)
    parser.add_render_rule("heading_close", _heading)
    parser.add_render_rule("table_open", lambda *_: '<div class="wide"><table>\n')
    parser.add_render_rule("table_close", lambda *_: "</table></div>\n")
    return parser


def _is_harmless(link: str) -> bool:
    # Browsers drop blanks and control characters before they read the scheme, so they are dropped here as well.
    bare = re.sub(r"[\x00-\x20\x7f-\xa0]", "", unquote(link))
    try:
        return urlsplit(bare).scheme.casefold() in LINK_SCHEMES
    except ValueError:
        return False


def _picture_path(source: str) -> str | None:
    """The path of a picture beside the style file; None for one on a network or outside the studio."""
    path = unquote(source)
    parts = urlsplit(path)
    if parts.scheme or parts.netloc or "\\" in path or path.startswith("/"):
        return None
    if any(step in ("", "..") for step in parts.path.split("/")):
        return None
    return parts.path.removeprefix("./")


def _image(self: Any, tokens: Sequence[Token], index: int, options: Any, env: dict[str, Any]) -> str:
    token = tokens[index]
    words = escape(self.renderInlineAsText(token.children or [], options, env))
    path = _picture_path(str(token.attrs.get("src", "")))
    if path is None:
        return f'<span class="no-picture">{words}</span>'
    env.get("pictures", []).append(path)
    return f'<img src="{_ROOT}{PICTURES}/{escape(path)}" alt="{words}" loading="lazy">'


def _fence(self: Any, tokens: Sequence[Token], index: int, options: Any, env: Any) -> str:
    """A sketch drawn, with its caption; other fenced text as it was written."""
    caption = caption_of(_OURS.sub("", tokens[index].info))
    if caption is None:
        return str(type(self).fence(self, tokens, index, options, env))
    caption = caption or "Sketch"
    sketch = read_sketch(caption, _OURS.sub("", tokens[index].content))
    return f'<figure class="sketch">{sketch_svg(sketch)}<figcaption>{escape(caption)}</figcaption></figure>\n'


def _link_open(self: Any, tokens: Sequence[Token], index: int, options: Any, env: Any) -> str:
    token = tokens[index]
    if urlsplit(str(token.attrs.get("href", ""))).scheme in ("http", "https"):
        token.attrSet("rel", "noreferrer noopener external")
    return str(self.renderToken(tokens, index, options, env))


def _heading(self: Any, tokens: Sequence[Token], index: int, options: Any, env: Any) -> str:
    # Prose stands below the page's own title and section headings.
    token = tokens[index]
    token.tag = f"h{min(int(token.tag[1]) + 2, 6)}"
    return str(self.renderToken(tokens, index, options, env))
