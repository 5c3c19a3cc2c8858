"""The care label of a finished garment: of every process the strictest that any part needs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.kernel.errors import InputError
from samite.kernel.evidence import Evidence, Grade
from samite.labels.care import advise_care
from samite.tables.care import PROCESSES, CareLevel, care_level, care_methods

EDITION = (
    "ISO 3758:2012, from memory; the edition of 2023 takes its place, check it before printing"
)
IRON_LEVELS = ("none", "one-dot", "two-dots", "three-dots")
GIVEN = Evidence("common-practice", Grade.COMMON_PRACTICE, "the bolt's own label")


@dataclass(frozen=True, slots=True)
class CarePart:
    """A part of a garment that has to bear the cleaning.

    Parameters
    ----------
    name : str
        What it is, ``"shell"`` or ``"braid"``.
    cloth : Cloth
        What it is made of.
    iron_dots : int
        Dots of the hottest iron that it bears [1].
    """

    name: str
    cloth: Cloth
    iron_dots: int


@dataclass(frozen=True, slots=True)
class CareStep:
    """One process of a garment's care label.

    Parameters
    ----------
    level : CareLevel
        What the label says.
    because : str
        Which part asks for it, and why.
    """

    level: CareLevel
    because: str


@dataclass(frozen=True, slots=True)
class CareLabel:
    """The care label of a garment.

    Parameters
    ----------
    edition : str
        Edition of the standard whose symbols are shown.
    steps : tuple of CareStep
        One a process, in the order of the label.
    notes : tuple of str
        What to add in words, and where to defer.
    """

    edition: str
    steps: tuple[CareStep, ...]
    notes: tuple[str, ...]

    @property
    def words(self) -> str:
        """The label in one line."""
        return "; ".join(step.level.words for step in self.steps)


def care_label(parts: Sequence[CarePart]) -> CareLabel:
    """Return the care label of a garment from all its parts.

    Parameters
    ----------
    parts : sequence of CarePart
        Shell, lining, interfacing, trims.

    Returns
    -------
    CareLabel
        The strictest level of every process, with the part that asks for it.

    Raises
    ------
    InputError
        If there is no part.

    Notes
    -----
    What the bolt's label says of washing and dry cleaning goes before the rules. Where neither
    washing nor dry cleaning is left, the label says to spot clean. Errs strict: a part that
    can be taken off before cleaning still counts.

    References
    ----------
    ``iso-3758-2012``: order of the symbols, from memory.
    ``cfr-16-423``: one method with warnings, for every part of the garment, from memory.
    """
    if not parts:
        raise InputError("a garment without parts has no care label", "parts", "give it a cloth")
    steps = tuple(_strictest(process, parts) for process in PROCESSES)
    by_process = {step.level.process: step.level for step in steps}
    notes = []
    if by_process["wash"].rank == 0 and by_process["professional"].rank == 0:
        notes.append("spot clean only: dab with a barely damp white cloth, test inside first")
    if len({part.cloth.reading.text for part in parts}) > 1:
        notes.append("wash or clean a test piece with every part on it before the label is printed")
    notes.append("not legal advice: local codes decide (16 CFR 423 in the US)")
    return CareLabel(EDITION, steps, tuple(notes))


def _strictest(process: str, parts: Sequence[CarePart]) -> CareStep:
    asked = [_asked(process, part) for part in parts]
    return min(asked, key=lambda step: step.level.rank)


def _asked(process: str, part: CarePart) -> CareStep:
    if process == "iron":
        level = care_level("iron", IRON_LEVELS[part.iron_dots])
        return CareStep(level, f"{part.name}: the hottest iron that all of it bears")
    advice = advise_care(part.cloth)
    level = care_methods()[advice.value.method][process]
    said = _said(process, part.cloth)
    if said is not None:
        return CareStep(said, f"{part.name}: as the bolt's label says")
    return CareStep(level, f"{part.name}: {advice.reason.claim}")


def _said(process: str, cloth: Cloth) -> CareLevel | None:
    """Return what the bolt's own label says of a process; None if it says nothing."""
    reading = cloth.reading
    if process == "professional" and reading.care_dry_clean is not None:
        return care_level(process, "all-mild" if reading.care_dry_clean else "none")
    if process == "wash" and reading.care_wash_c is not None:
        if reading.care_wash_c <= 0:
            return care_level(process, "none")
        return care_level(process, "30-mild" if reading.care_wash_c < 40 else "40")
    return None
