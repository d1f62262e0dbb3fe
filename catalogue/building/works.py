"""What a build asks of the other rooms, named in one place.

`Works` says which questions there are; `catalogue.building.rooms` passes them on. Everything heavy is imported
when it is first needed. A class of the same shape takes its place where builds themselves are tested.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

from catalogue.findings import Finding

if TYPE_CHECKING:
    from catalogue.building.sized import SizedMade
    from catalogue.building.studio import Studio

Summaries = Mapping[tuple[str, str], Mapping[str, Any]]
"""By (style slug, client slug): what other pages show of a draft. A pair that was not made is not in it. For the page
of a style, what it shows of its sizes stands under (style slug, "").
"""


@dataclass(frozen=True, slots=True)
class PairMade:
    """A style drafted for a client, ready to be written.

    Attributes:
        files: what is drawn and reckoned, by name beside the page.
        page: the page.
        summary: plain values (texts, numbers, lists, mappings) for other pages.
        findings: what is wrong with the draft.
        record: what `pair_page` needs of the draft to make the page again; b"" when there is no need to keep it.
    """

    files: Mapping[str, bytes]
    page: bytes
    summary: Mapping[str, Any] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    record: bytes = b""


@dataclass(frozen=True, slots=True)
class PairSource:
    """What a draft comes from, besides `shared`.

    Attributes:
        content: everything that decides what is drawn.
        places: where in their files these things stand; it matters only where there is something to find
            fault with.
        page: what only the page shows (notes, say).
    """

    content: Any
    places: Any = None
    page: Any = None


class Works(Protocol):
    """What a build needs done. All answers depend on the arguments alone and are the same every time.

    Pages come as bytes by their path from the site's root.
    """

    def warm(self, studio: Studio) -> None:
        """Import and make ready what the work needs, before workers are forked."""

    def warm_to_draft(self) -> None:
        """The same for `check`, which draws nothing."""

    def settings(self, root: Path) -> tuple[Any, tuple[Finding, ...]]:
        """The studio's settings and what is wrong with them."""

    def style(self, path: Path, root: Path, settings: Any) -> Any:
        """A style file, read; may raise Trouble."""

    def client(self, path: Path, root: Path, settings: Any) -> Any:
        """A client file, read; may raise Trouble."""

    def sizes(self, path: Path, root: Path, settings: Any) -> Any:
        """A table of sizes, read; may raise Trouble."""

    def shared(self, studio: Studio) -> Any:
        """What every page and drawing comes from."""

    def shared_pages(self, studio: Studio) -> Any:
        """What every page comes from besides, and no drawing: templates."""

    def look_over(self, studio: Studio) -> tuple[Finding, ...]:
        """What is wrong with things that belong to no style or client alone: templates, pictures."""

    def said(self, studio: Studio) -> tuple[Finding, ...]:
        """What went wrong in the studio's own templates since this was last asked; the pages say it in their place."""

    def suits(self, style: Any, client: Any) -> bool:
        """Whether the style is drafted for this client at all."""

    def pair_from(self, studio: Studio, style: Any, client: Any) -> PairSource:
        """What the draft of this style for this client and its page come from."""

    def style_from(self, studio: Studio, style: Any) -> Any:
        """What the page of a style comes from, besides `shared` and the summaries of its drafts."""

    def client_from(self, studio: Studio, client: Any) -> Any:
        """What the pages of a client come from, besides `shared` and the summaries of its drafts."""

    def front_from(self, studio: Studio) -> Any:
        """What the first page and its like come from, besides `shared` and the summaries."""

    def others_from(self, studio: Studio) -> Any:
        """What the remaining files come from, besides `shared`."""

    def pair(self, studio: Studio, style: Any, client: Any) -> PairMade:
        """Draft a style for a client."""

    def pair_page(
        self, studio: Studio, style: Any, client: Any, summary: Mapping[str, Any], record: bytes = b""
    ) -> bytes:
        """The page of a draft whose drawings are there already; without its `record` it is drafted once more."""

    def pair_failed(self, studio: Studio, style: Any, client: Any, finding: Finding) -> PairMade:
        """The page of a draft that could not be made, saying why."""

    def check(self, studio: Studio, style: Any, client: Any) -> tuple[Finding, ...]:
        """What is wrong with the draft of this style for this client."""

    def check_pages(self, studio: Studio) -> tuple[Finding, ...]:
        """What is wrong with pages that show more than one draft; asked for when nothing is to be written."""

    def style_pages(self, studio: Studio, style: Any, summaries: Summaries) -> Mapping[str, bytes]: ...

    def client_pages(self, studio: Studio, client: Any, summaries: Summaries) -> Mapping[str, bytes]: ...

    def front_pages(self, studio: Studio, summaries: Summaries) -> Mapping[str, bytes]:
        """The first page and all else that shows every style and client."""

    def sized_from(self, studio: Studio, style: Any) -> Any:
        """What a style in standard sizes comes from, besides `shared`; None when no table asks for it."""

    def sized(self, studio: Studio, style: Any) -> SizedMade:
        """A style nested in the sizes of each table that asks for it."""

    def check_sized(self, studio: Studio, style: Any) -> tuple[Finding, ...]:
        """What is wrong with the drafts of a style in such sizes."""

    def choices_from(self, studio: Studio, style: Any) -> Any:
        """What the pictures of a style's choices come from, besides `shared`."""

    def choice_paths(self, style: Any) -> Collection[str]:
        """Paths of the pictures of its choices that a style's page shows."""

    def choices(self, studio: Studio, style: Any) -> Mapping[str, bytes]:
        """Pictures of what a style's choices change, for no client."""

    def others(self, studio: Studio) -> Mapping[str, bytes]:
        """What shows no client: style sheets, scripts, fonts, measuring, pictures."""

    def handbook(self, studio: Studio) -> Mapping[str, bytes]:
        """The handbook, which comes from what is `shared` alone."""
