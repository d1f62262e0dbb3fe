"""The handbook's example of prose that depends on the client: drafted by the program itself, both ways."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from catalogue.drafting import Draft, draft_style
from catalogue.findings import Place
from catalogue.handbook.examples import neutral_client
from catalogue.people.client import Chosen
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings

PROSE = """1. Sew the darts and the side seams.
2. Sew the centre back {when vent is yes} as far as the vent,
   {vent_height} above the hem, {otherwise} as far as the hem
   {always} and press it open.
3. {when vent is yes} Press both laps to the left back and
   stitch them down along their tops.
{when finish is waistband}
4. Press the inside edge of the band under by {1 cm}.
5. Sew the band to the waist, {band_length} of it.
{otherwise}
4. Sew the ribbon to the waist, {band_length} of it, and turn it inside.
{always}
6. Turn up the hem."""
"""What the handbook shows."""

_FRONT = """---
title: Example
choices:
  vent: yes (yes, no) - an open lap to step in
  finish: waistband (waistband, ribbon) - of the waist
---

# Drafting

```draft
vent_height = 20 cm
band_length = waist_girth + 3 cm
```

# Sewing

"""
WAYS = (
    {"vent": "yes", "finish": "waistband"},
    {"vent": "no", "finish": "ribbon"},
)
"""The options that it is drafted with."""


def prose_examples() -> Iterator[tuple[str, Draft]]:
    """The example in each of `WAYS`: its options in words, and the draft, whose last text is `PROSE`."""
    style = style_from((_FRONT + PROSE).encode(), "example", "handbook/example.md")
    nowhere = Place("handbook")
    for way in WAYS:
        chosen = {name: Chosen(word, nowhere, nowhere) for name, word in way.items()}
        client = replace(neutral_client(), choices={style.slug: chosen})
        yield (
            ", ".join(f"{name}: {word}" for name, word in way.items()),
            draft_style(style, client, Settings()),
        )
