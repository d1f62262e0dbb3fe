"""Markdown read in bounded time, whatever a stranger's file repeats: brackets that open and never close, endless lists.

The reader of links looks for the end of each opening bracket, and inside it for the end of each that follows; its task
lists are looked through from the beginning for each item. Both are left off where a text asks for more than a hundred
times what the longest real one does: what is left is shown as it was written.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.rules_core import StateCore
from markdown_it.rules_inline import StateInline

MOST_LOOKED_THROUGH = 200_000
"""Characters that are looked through for the ends of links in one text."""
MOST_TOKENS = 4_000
"""Parts of a text (five for an item of a list) up to which its lists may be lists of tasks."""
TASKS = "github-tasklists"
_LOOKED = "looked through"
_LAST = "last bracket"


def bound(parser: MarkdownIt) -> None:
    """Keep `parser`, which knows lists of tasks, within bounds."""
    helpers = parser.helpers
    read = helpers.parseLinkLabel

    def label_end(state: StateInline, start: int, disableNested: bool = False) -> int:
        env: Any = state.env
        source, last = env.get(_LAST, ("", -1))
        if source is not state.src:
            last = state.src.rfind("]")
            env[_LAST] = (state.src, last)
        if last <= start or env.get(_LOOKED, 0) > MOST_LOOKED_THROUGH:
            return -1
        end = read(state, start, disableNested)
        env[_LOOKED] = env.get(_LOOKED, 0) + (end if end >= 0 else state.posMax) - start
        return end

    parser.helpers = SimpleNamespace(  # type: ignore[assignment]
        parseLinkLabel=label_end,
        parseLinkDestination=helpers.parseLinkDestination,
        parseLinkTitle=helpers.parseLinkTitle,
    )
    rules = parser.core.ruler
    [tasks] = [rule.fn for rule in rules.__rules__ if rule.name == TASKS]

    def few_tasks(state: StateCore) -> None:
        if len(state.tokens) <= MOST_TOKENS:
            tasks(state)

    rules.at(TASKS, few_tasks)
