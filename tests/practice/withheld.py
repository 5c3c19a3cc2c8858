"""Build readings from the property columns of ``practice.csv`` with the structure's name withheld."""

from __future__ import annotations

import re

from samite.cloth.reading import Component, FibreShare, LabelReading, PartKind
from samite.kernel.evidence import GIVEN
from samite.kernel.quantity import Quantity

WORDS = (
    ("polyurethane", "polyurethane"),
    ("ethylene-vinyl", "polyurethane"),
    ("chloroprene", "polyurethane"),
    ("pvc", "chlorofibre"),
    ("metallised film", "metallised-film"),
    ("polyester", "polyester"),
    ("nylon", "polyamide"),
    ("viscose", "viscose"),
    ("rayon", "viscose"),
    ("triacetate", "triacetate"),
    ("acetate", "acetate"),
    ("cupro", "cupro"),
    ("silk", "silk"),
    ("cotton", "cotton"),
    ("linen", "linen"),
    ("wool", "wool"),
    ("modacrylic", "modacrylic"),
    ("acrylic", "acrylic"),
    ("jute", "jute"),
)


def main_fibre(text: str) -> list[str]:
    """Fibres in the order in which the table names them."""
    lowered = text.lower()
    found = sorted((lowered.index(word), key) for word, key in WORDS if word in lowered)
    return list(dict.fromkeys(key for _, key in found))


def fibres_of(row: dict[str, str]) -> tuple[FibreShare, ...]:
    text = row["typical_fibres"]
    named = main_fibre(text.split(" on ")[-1] if text.startswith("polyurethane on") else text)
    part = 0.0 if "elastane" not in text else 3.0 if "(+ elastane)" in text else 8.0
    if not named:
        return ()
    shares: list[FibreShare] = []
    if "metallised-film" in named and len(named) > 1:
        others = [name for name in named if name != "metallised-film"]
        shares = [FibreShare(others[0], 70.0), FibreShare("metallised-film", 30.0)]
    else:
        shares = [FibreShare(named[0], 100.0 - part)]
    if part:
        shares.append(FibreShare("elastane", part))
    return tuple(shares)


def withheld_reading(row: dict[str, str]) -> LabelReading:
    """A reading that gives fibres, mass, thickness, pile, film and stretch and no name."""
    words = f"{row['structure']} {row['typical_fibres']}".lower()
    fibres = fibres_of(row)
    components = []
    pile = bool(re.search(r"\bpile\b|raised both", words)) and "flat" not in row["structure"][:4]
    if re.search(r"\bpile\b", row["structure"]):
        components.append(Component(PartKind.PILE, ()))
    if re.search(r"sequin", words) and "dots" not in words:
        components.append(Component(PartKind.SEQUINS, ()))
    if re.search(r"bead", words):
        components.append(Component(PartKind.BEADS, ()))
    if re.search(r"\bdots\b", row["structure"]):
        components.append(Component(PartKind.DOTS, ()))
    if re.search(r"flock", row["structure"]):
        components.append(Component(PartKind.FLOCK, ()))
    if re.search(r"glitter", words):
        components.append(Component(PartKind.GLITTER, ()))
    if re.search(r"foil|laminated and|film face", words) and "dots" not in words:
        components.append(Component(PartKind.FILM, ()))
    if re.search(r"coated", row["structure"]) and "film" not in row["structure"]:
        components.append(Component(PartKind.COATING, (FibreShare("polyurethane", 100.0),)))
    components.append(Component(PartKind.BASE, fibres))
    height = None
    if pile and float(row["thickness_mm_lo"]) >= 3:
        height = 0.9 * middle(row, "thickness_mm")
    return LabelReading(
        text="(name withheld)",
        components=tuple(components),
        mass_per_area_gsm=given(row, "gsm", "g/m2"),
        thickness_mm=given(row, "thickness_mm", "mm"),
        stretch_cross_percent=exactly(float(row["stretch_pct_cross"]), "%"),
        pile_height_mm=height,
    )


def middle(row: dict[str, str], name: str) -> float:
    return 0.5 * (float(row[f"{name}_lo"]) + float(row[f"{name}_hi"]))


def given(row: dict[str, str], name: str, unit: str) -> Quantity:
    low, high = float(row[f"{name}_lo"]), float(row[f"{name}_hi"])
    return Quantity(0.5 * (low + high), low, high, unit, GIVEN, True)


def exactly(value: float, unit: str) -> Quantity:
    return Quantity(value, value, value, unit, GIVEN, True)
