"""The register of body measurements, and how a name written by a person is found in it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from catalogue.people.everyday import AMBIGUOUS
from catalogue.people.girths import GIRTHS
from catalogue.people.measurements import Measurement
from catalogue.people.naming import loose_name, plain_name, split_side
from catalogue.people.spans import SPANS
from catalogue.people.suggesting import most_like
from catalogue.trade_names import called, wordings

STANDARD: dict[str, Measurement] = {m.key: m for m in (*GIRTHS, *SPANS)}
"""Every measurement that the program knows, by its key."""

_AMBIGUOUS = {name: keys for name, (keys, _) in AMBIGUOUS.items()}
_LOOSELY_AMBIGUOUS = {loose_name(name): keys for name, (keys, _) in reversed(AMBIGUOUS.items())}


@dataclass(frozen=True)
class Register(Mapping[str, Measurement]):
    """The measurements of one studio by their keys: the standard ones, and its `own`."""

    own: tuple[Measurement, ...] = ()

    def __getitem__(self, key: str) -> Measurement:
        return self._by_key[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._by_key)

    def __len__(self) -> int:
        return len(self._by_key)

    @cached_property
    def _by_key(self) -> dict[str, Measurement]:
        return {**STANDARD, **{m.key: m for m in self.own}}

    @cached_property
    def _names(self) -> dict[str, Measurement]:
        return {plain_name(name): m for m in self.values() for name in (*m.aliases, m.name)}

    @cached_property
    def _loose(self) -> dict[tuple[str, ...], Measurement | None]:
        """By the words of their names; None where two measurements share them."""
        found: dict[tuple[str, ...], Measurement | None] = {}
        for name, measurement in self._names.items():
            form = loose_name(name)
            if form:
                same = found.setdefault(form, measurement)
                found[form] = measurement if same is measurement else None
        return found

    @cached_property
    def _likely(self) -> dict[str, bool]:
        """Every name that may be suggested, and whether it is a standard one."""
        return {
            **dict.fromkeys(AMBIGUOUS, False),
            **{name: name == plain_name(m.name) for name, m in self._names.items()},
        }

    def name_of(self, key: str) -> str:
        """The name of a measurement by its key; of one that is not known here, the key in words."""
        return self[key].name if key in self else key.replace("_", " ")

    def find(self, name: str) -> Measurement | None:
        """The measurement called `name`: its name, its key or an everyday name, in any of the forms people write it in.

        None when there is no such measurement, or when the name means several (see `candidates`).
        """
        plain = plain_name(name)
        if plain in self._names:
            return self._names[plain]
        return None if plain in AMBIGUOUS else self._loose.get(loose_name(plain))

    def candidates(self, name: str) -> tuple[Measurement, ...]:
        """What a name may mean that means one measurement to some and another to others; empty for every other name."""
        if self.find(name) is not None:
            return ()
        form = loose_name(name)
        known = _AMBIGUOUS.get(plain_name(name)) or _LOOSELY_AMBIGUOUS.get(form, ())
        if known:
            return tuple(self[key] for key in known)
        if form and form in self._loose:
            return tuple({m.key: m for other, m in self._names.items() if loose_name(other) == form}.values())
        return ()

    def likely(self, name: str) -> Measurement | None:
        """The length that `name` most likely means; None when none or several are likely."""
        found = self._names.get(most_like(name, self._likely))
        return found if found is not None and found.kind != "weight" else None

    def suggest(self, name: str) -> str:
        """A hint naming what `name` may mean or most likely means, or ""."""
        if several := self.candidates(name):
            return f"Write {_listed(m.name for m in several)}, whichever was measured."
        bare, side = split_side(name)
        if side and (found := self.find(bare)):
            return f"The two sides are not kept apart yet: write {found.name}."
        likely = most_like(name, self._likely)
        if not likely:
            meant = next((m for wording, _, _ in wordings(name) if (m := self.find(wording))), None)
            return called(name, meant.name) if meant else ""
        if likely not in self._names:
            return f"Did you mean {_listed(m.name for m in self.candidates(likely))}?"
        measurement = self._names[likely]
        if plain_name(measurement.name) == likely:
            return f"Did you mean “{measurement.name}”?"
        return f"Did you mean “{likely}” ({measurement.name})?"

    def lengths(self) -> dict[str, str]:
        """Key to name of every measurement that is a length: what a formula may use."""
        return {m.key: m.name for m in self.values() if m.kind != "weight"}

    def of_lengths(self, name: str) -> Measurement | None:
        """As `find`, of the measurements that a formula may use."""
        found = self.find(name)
        return found if found is not None and found.kind != "weight" else None


def _listed(names: Iterable[str]) -> str:
    *most, last = names
    return f"{', '.join(most)} or {last}" if most else last


REGISTER = Register()
"""The standard measurements alone, for a studio that has none of its own."""


def lookup(name: str) -> Measurement | None:
    """As `Register.find`, among the standard measurements."""
    return REGISTER.find(name)


def suggest(name: str) -> str:
    """As `Register.suggest`, among the standard measurements."""
    return REGISTER.suggest(name)


def known_measurements() -> dict[str, str]:
    """Key to name of every standard measurement that is a length."""
    return REGISTER.lengths()
