"""Cloths for the tests, made from a reading and not from a label's text."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from samite.cloth.build import build_cloth
from samite.cloth.model import Cloth
from samite.cloth.reading import Component, FibreShare, LabelReading, PartKind
from samite.kernel.evidence import GIVEN
from samite.kernel.quantity import exact


def part(kind: PartKind, **fibres: float) -> Component:
    shares = (FibreShare(name.replace("_", "-"), percent) for name, percent in fibres.items())
    return Component(kind, tuple(shares))


def cloth(
    structure: str | None = None,
    mass_gsm: float | None = None,
    fibres: Mapping[str, float] | None = None,
    *others: Component,
    surfaces: Iterable[str] = (),
    **said: object,
) -> Cloth:
    base = (part(PartKind.BASE, **fibres),) if fibres else ()
    mass = exact(mass_gsm, "g/m2", GIVEN, given=True) if mass_gsm else None
    reading = LabelReading(
        text="made for a test",
        structure=structure,
        components=(*base, *others),
        mass_per_area_gsm=mass,
        surfaces=frozenset(surfaces),
        **said,
    )
    return build_cloth(reading)
