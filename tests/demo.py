"""The demo studio's people: files of clients, read with the measurements that the studio describes itself."""

from functools import cache
from pathlib import Path

from catalogue.cloth.reading import FILE as CLOTHS
from catalogue.people import Client, read_client
from catalogue.people.own import FILE, read_own

ROOT = Path(__file__).resolve().parents[1]
OWN = read_own(ROOT)
CLIENT_FILES = tuple(
    sorted(path for path in (ROOT / "clients").glob("*.md") if path not in (ROOT / FILE, ROOT / CLOTHS))
)


@cache
def demo_client(slug: str) -> Client:
    return read_client(ROOT / "clients" / f"{slug}.md", ROOT, register=OWN.register)


def demo_clients() -> list[Client]:
    return [demo_client(path.stem) for path in CLIENT_FILES]
