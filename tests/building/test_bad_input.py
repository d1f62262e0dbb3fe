"""Files that are wrong, hostile or just odd are tried through the commands `build` and `check` in `test_bad_*.py`.

The table in DEVELOPERS.md, “Bad input tried”, has a row for each kind; a test holds the two together.
"""

from __future__ import annotations

import re

from tests.browser.test_forms import HOSTILE
from tests.building.odd_studio import ROOT
from tests.building.test_bad_blocks import BAD_BLOCKS
from tests.building.test_bad_files import ACCEPTED, BROKEN_FILES
from tests.building.test_bad_names import NAMES, UNSHOWN
from tests.building.test_bad_orders_cloths_fittings import (
    BAD_CLOTHS,
    BAD_FITTINGS,
    BAD_HEADS,
    BAD_KEPT,
    BAD_ORDERS,
)
from tests.building.test_bad_settings_and_templates import BAD_SETTINGS, BAD_TEMPLATES
from tests.building.test_bad_words_and_pictures import BAD_PICTURES, PAYLOADS
from tests.building.test_between_runs import SPOILT
from tests.cli.test_keeping_forms import REFUSED
from tests.cli.test_receiving import NO_CLIENT_FILES, NO_FORMS
from tests.site.test_markdown_bounds import ENDLESS
from tests.studio.test_conditions_in_prose import MISTAKES as BAD_CONDITIONS

CASES = {
    "names of files that try to escape": len(NAMES) + len(NAMES[::3]),
    "names that are the same somewhere": 5,
    "names that can't be shown": 3 * len(UNSHOWN),
    "files that are no style, client file or table": 3 * len(BROKEN_FILES),
    "other encodings and line ends": len(ACCEPTED),
    "files of 100 MB": 6,
    "markup and script in every text": len(PAYLOADS),
    "pictures that are none": len(BAD_PICTURES),
    "prose that is long to read": len(ENDLESS),
    "conditions in prose": len(BAD_CONDITIONS),
    "settings": len(BAD_SETTINGS),
    "templates": len(BAD_TEMPLATES),
    "what a style is cut from": len(BAD_BLOCKS),
    "cloths": len(BAD_CLOTHS),
    "orders": len(BAD_ORDERS),
    "fittings": len(BAD_FITTINGS) + len(BAD_HEADS),
    "kept garments": len(BAD_KEPT),
    "what a form sends": len(NO_CLIENT_FILES) + len(NO_FORMS) + len(REFUSED),
    "lines typed into a form": len(HOSTILE),
    "what lies in the cache": len(SPOILT),
}


def test_the_table_in_the_documentation_counts_these_cases() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    rows = dict(re.findall(r"^\| (.+?) \| (\d+) \| .+ \|$", text, re.MULTILINE))
    assert {kind: int(rows.get(kind, 0)) for kind in CASES} == CASES
