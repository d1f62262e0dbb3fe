"""The demo studio's clients: all sorts of people, fully measured, and nothing to complain of."""

from pathlib import Path

import pytest

from catalogue.lengths import Unit
from catalogue.people import REGISTER
from tests.demo import CLIENT_FILES, OWN, demo_client, demo_clients

# what a man and a girl have no use for
BUST = {"bust_girth", "under_bust_girth", "nape_to_waist_front", "neck_shoulder_point_to_bust_point",
        "nape_to_bust_point", "bust_point_width"}  # fmt: skip


@pytest.mark.parametrize("path", CLIENT_FILES, ids=lambda p: p.stem)
def test_a_demo_client_is_whole_and_plausible(path: Path) -> None:
    client = demo_client(path.stem)
    assert client.findings == ()
    wanted = set(REGISTER) - {"weight"} - (set() if client.kind == "woman" else BUST)
    assert set(client.measurements) - {m.key for m in OWN.register.own} == wanted
    assert client.weight_kg
    assert client.notes
    assert all(m.date for m in client.measurements.values())


def test_they_are_all_sorts_of_people() -> None:
    clients = demo_clients()
    assert len({c.slug for c in clients}) == len(clients) >= 6
    assert {c.kind for c in clients} >= {"woman", "man", "girl"}
    assert {c.units.primary for c in clients} >= {Unit.IN, Unit.CM}
    assert any(len(c.sets) > 1 for c in clients)
    busts = [c.measurements["bust_girth"].mm for c in clients if "bust_girth" in c.measurements]
    assert min(busts) < 820 and max(busts) > 1250
    assert any("\u0600" <= c.name[0] <= "\u06ff" for c in clients)


def test_the_studios_own_measurement_is_taken_of_a_client() -> None:
    assert OWN.findings == () and OWN.register.own
    clients = demo_clients()
    for own in OWN.register.own:
        assert any(own.key in client.measurements for client in clients)
