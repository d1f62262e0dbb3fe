"""A page before it is laid out: one template, and a record whose fields are the names that the template uses."""

from __future__ import annotations

import re
from dataclasses import dataclass, fields
from typing import Any, ClassVar

from catalogue.language.lines import without_comments
from catalogue.people import Client
from catalogue.site.markdown import plain
from catalogue.studio.style import Style


@dataclass(frozen=True, slots=True)
class Page:
    """What a template shows. Each kind of page adds its fields; all that a template uses is in them.

    Attributes:
        path: where the page lies, from the site's root.
        template: its template in `site_template`.
        here: the entry of the main menu that it belongs to.
    """

    path: str
    template: ClassVar[str]
    here: ClassVar[str]

    @property
    def root(self) -> str:
        """The way from the page to the site's root."""
        return root_from(self.path)

    def names(self) -> dict[str, Any]:
        """Each field by its name, as a template takes them."""
        return {field.name: getattr(self, field.name) for field in fields(self)}


def root_from(path: str) -> str:
    """The way from the page at `path` to the site's root."""
    return "../" * path.count("/")


_DRAFTED = re.compile(r"^[ ]{0,3}```draft[ ]*$.*?^[ ]{0,3}```", re.MULTILINE | re.DOTALL)


def fitting_notes(client: Client, root: str) -> str:
    """A client's fitting notes as HTML, without comments in blocks of drafting; "" where there are none."""
    shown = _DRAFTED.sub(lambda found: without_comments(found[0]), client.notes)
    return plain(shown, root) if shown.strip() else ""


def and_words(words: tuple[str, ...]) -> str:
    """ "women", "women and girls", "women, girls and boys"."""
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def for_whom(style: Style) -> str:
    """Whom a style is for: "women and girls"; "" for anyone."""
    return and_words(style.audience)
