"""The demo studio's styles and people, read once for all tests of a process."""

from functools import cache
from pathlib import Path

from catalogue.cloth.reading import FILE as CLOTHS
from catalogue.people import Client, read_client
from catalogue.people.own import FILE, read_own
from catalogue.studio.joining import joined
from catalogue.studio.reading import read_style
from catalogue.studio.style import Style

ROOT = Path(__file__).resolve().parents[1]
OWN = read_own(ROOT)
CLIENT_FILES = tuple(
    sorted(path for path in (ROOT / "clients").glob("*.md") if path not in (ROOT / FILE, ROOT / CLOTHS))
)


@cache
def demo_client(slug: str) -> Client:
    """A client, read with the measurements that the studio describes itself."""
    return read_client(ROOT / "clients" / f"{slug}.md", ROOT, register=OWN.register)


@cache
def demo_styles() -> tuple[Style, ...]:
    """The styles in the order of their names, each with the blocks it is cut from."""
    return tuple(joined(read_style(path, ROOT) for path in sorted((ROOT / "styles").glob("*.md"))))


def demo_clients() -> list[Client]:
    return [demo_client(path.stem) for path in CLIENT_FILES]
