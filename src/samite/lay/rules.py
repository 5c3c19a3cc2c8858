"""What a cloth asks of a lay: one way or two, open or folded, gaps and edges, which side is up."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.kernel.evidence import GIVEN, Evidence, Grade
from samite.kernel.reasons import Reason
from samite.seam.handling import cut
from samite.tables.lay import lay_rule

PRACTICE = Evidence("common-practice", Grade.COMMON_PRACTICE)
FACES = ("up", "down")
"""Which side of the cloth is seen on the table: its right side, or its wrong side."""


@dataclass(frozen=True, slots=True)
class LayRules:
    """How pieces may lie on one cloth.

    Parameters
    ----------
    one_way : bool
        Whether all pieces lie the same way, as nap and one-way figures ask.
    folded : bool
        Whether the cloth is folded along its length.
    face : str
        One of `FACES`.
    gap_mm : float
        Least distance between pieces [mm].
    edge_mm : float
        Kept free along the selvedges [mm].
    repeat_along_mm : float
        Repeat along the cloth, 0 for none [mm].
    repeat_across_mm : float
        Repeat across the cloth, 0 for none [mm].
    reasons : tuple of (str, Reason)
        Why, by the name of the field.
    """

    one_way: bool = False
    folded: bool = False
    face: str = "down"
    gap_mm: float = 3.0
    edge_mm: float = 15.0
    repeat_along_mm: float = 0.0
    repeat_across_mm: float = 0.0
    reasons: tuple[tuple[str, Reason], ...] = ()

    def why(self, name: str) -> Reason | None:
        """Return the reason of a field.

        Parameters
        ----------
        name : str
            Name of the field.

        Returns
        -------
        Reason or None
            Why it is so; None if it was not said.
        """
        return dict(self.reasons).get(name)


def find_lay_rules(cloth: Cloth, *, fold_wanted: bool | None = None) -> LayRules:
    """Decide how pieces may lie on a cloth.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    fold_wanted : bool or None
        What the person insists on; None leaves it to the cloth.

    Returns
    -------
    LayRules
        With a reason for each.

    Notes
    -----
    One-way wherever the cloth has any direction. Single layer for slippery, napped, sheer and
    figured cloth; else folded, as most cloth is cut. The gap grows with fray.

    References
    ----------
    ``common-practice``: nap never turns; what slides or shades is cut in a single layer.
    """
    step = dict(cut(cloth).value.details)
    frays = lay_rule("gap", "piece_gap_mm", f"frays {cloth.frays}")
    selvedge = lay_rule("selvedge", "margin_mm")
    folded, why_layers = _layers(cloth, step["layers"], fold_wanted)
    reading = cloth.reading
    return LayRules(
        cloth.one_way,
        folded,
        "up" if step["face"] == "up" else "down",
        frays.value,
        selvedge.value,
        reading.repeat_along_mm or 0.0,
        reading.repeat_across_mm or 0.0,
        (
            ("one_way", cloth.reasons["one_way"]),
            ("folded", why_layers),
            ("face", cut(cloth).reason),
            ("gap_mm", Reason(f"frays {FRAYS[cloth.frays]}", (cloth.reasons["frays"],), PRACTICE)),
            ("edge_mm", Reason("selvedges are tighter and pull a seam", evidence=PRACTICE)),
        ),
    )


FRAYS = {0: "not at all", 1: "little", 2: "clearly", 3: "badly"}


def _layers(cloth: Cloth, layers: str, wanted: bool | None) -> tuple[bool, Reason]:
    if wanted is not None:
        word = "folded" if wanted else "single layer"
        return wanted, Reason(f"{word}, as was asked", evidence=GIVEN)
    reading = cloth.reading
    if reading.repeat_along_mm or reading.repeat_across_mm:
        return False, Reason(
            "single layer: the figure of the under layer cannot be seen", evidence=PRACTICE
        )
    if layers == "single":
        why = cut(cloth).reason.because[-1]
        return False, Reason(f"single layer: {why.claim}", evidence=PRACTICE)
    return True, Reason("folded: it lies still, and two are cut at once", evidence=PRACTICE)
