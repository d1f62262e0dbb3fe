"""Where each page lies in the site, and the name of the picture beside a draft."""

from __future__ import annotations

PICTURE = "pieces.svg"
"""Name of the picture beside a draft's page."""


def style_path(style: str) -> str:
    return f"styles/{style}/index.html"


def compare_path(style: str) -> str:
    return f"styles/{style}/compare/index.html"


def options_path(style: str, client: str) -> str:
    """The page that compares a client's draft with the same under other options."""
    return f"styles/{style}/compare/{client}/index.html"


def draft_path(style: str, client: str) -> str:
    return f"styles/{style}/{client}/index.html"


def ordered_path(client: str, order: str) -> str:
    """The page of the draft of an order's own; as deep as that of any draft."""
    return f"orders/{client}/{order}/index.html"


def client_path(client: str) -> str:
    return f"clients/{client}/index.html"


def card_path(client: str) -> str:
    return f"clients/{client}/card/index.html"


def kept_path(client: str, garment: str, file: str) -> str:
    """Where a file of a garment that was kept as it was cut lies."""
    return f"clients/{client}/kept/{garment}/{file}"


NEW_CLIENT = "clients/new/index.html"
NEW_ORDER = "orders/new/index.html"


def adding_path(client: str) -> str:
    return f"clients/{client}/add/index.html"


def beside(page: str, file: str) -> str:
    """Where a file beside a page lies."""
    return f"{page.rpartition('/')[0]}/{file}"
