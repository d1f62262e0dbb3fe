"""The handbook: the drafting language word by word, and pages about files, printing and beginning.

Each word's example is drafted by the tool itself, so that what is shown is what one gets.
"""

from catalogue.handbook.entry import GROUPS, Entry
from catalogue.handbook.examples import draft_example, example_source, example_style, neutral_client
from catalogue.handbook.news import Version, versions
from catalogue.handbook.words import entries

__all__ = [
    "GROUPS",
    "Entry",
    "Version",
    "draft_example",
    "entries",
    "example_source",
    "example_style",
    "neutral_client",
    "versions",
]
