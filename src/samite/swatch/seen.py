"""What was seen on a swatch: signs, each clear or doubtful."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from samite.kernel.errors import InputError
from samite.kernel.ranges import require_between

SHRUNK_MM = (0.1, 100.0)
"""Least and most that 10 cm can shrink and be seen [mm]."""

STRETCH_PERCENT = (0.5, 500.0)
"""Least and most that a cloth is stretched by hand [%]."""


class Sureness(StrEnum):
    """How sure the person is of what was seen."""

    CLEAR = "clear"
    DOUBTFUL = "doubtful"


class Sign(StrEnum):
    """What can be seen on a swatch."""

    NOTHING = "nothing"
    SET_FLAT = "set-flat"
    SHINE = "shine"
    STUCK = "stuck"
    MELTED = "melted"
    SHRUNK = "shrunk"
    PILE_CRUSHED = "pile-crushed"
    COLOUR_OFF = "colour-off"
    WATER_SPOT = "water-spot"
    PUCKERED = "puckered"
    SKIPPED = "skipped"
    PERFORATED = "perforated"
    FRAYED = "frayed"
    CRACKED = "cracked"
    BROKE = "broke"

    @property
    def words(self) -> str:
        """The sign in the words of the bench."""
        return WORDS.get(self, self.value.replace("-", " "))

    @property
    def by_pressing(self) -> bool:
        """Whether pressing can bring it about."""
        return self not in SEWN_ONLY

    @property
    def by_sewing(self) -> bool:
        """Whether sewing can bring it about."""
        return self in (SEWN_ONLY | {Sign.NOTHING, Sign.CRACKED})

    @property
    def harms(self) -> bool:
        """Whether it is damage."""
        return self not in (Sign.NOTHING, Sign.SET_FLAT)


SEWN_ONLY = frozenset({Sign.PUCKERED, Sign.SKIPPED, Sign.PERFORATED, Sign.FRAYED, Sign.BROKE})
"""Signs that only a seam shows."""

WORDS = {
    Sign.COLOUR_OFF: "colour or film off",
    Sign.SKIPPED: "skipped stitches",
    Sign.PERFORATED: "perforated along the seam",
    Sign.CRACKED: "cracked when stretched",
    Sign.BROKE: "broke when pulled across",
}
"""Signs whose words are not their names."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One sign, seen clearly or doubtfully.

    Parameters
    ----------
    sign : Sign
        What was seen.
    sureness : Sureness
        How sure the person is.
    shrunk_mm : float or None
        How much 10 cm have shrunk; only with `Sign.SHRUNK`, and always there [mm].
    stretch_percent : float or None
        How far it was stretched when it cracked; likewise with `Sign.CRACKED` [%].

    Raises
    ------
    InputError
        If an amount is missing, or stands with a sign that has none.
    """

    sign: Sign
    sureness: Sureness = Sureness.CLEAR
    shrunk_mm: float | None = None
    stretch_percent: float | None = None

    def __post_init__(self) -> None:
        _check_amount(self.sign, Sign.SHRUNK, "shrunk_mm", self.shrunk_mm, SHRUNK_MM)
        _check_amount(
            self.sign, Sign.CRACKED, "stretch_percent", self.stretch_percent, STRETCH_PERCENT
        )


def _check_amount(
    sign: Sign, owner: Sign, name: str, amount: float | None, span: tuple[float, float]
) -> None:
    if amount is None:
        if sign is owner:
            raise InputError(
                f"{sign.words}, but not by how much"
                if owner is Sign.SHRUNK
                else f"{sign.words}, but not how far it was stretched",
                name,
                "measure 10 cm before and after"
                if owner is Sign.SHRUNK
                else "give the stretch in per cent of the length at rest",
            )
        return
    if sign is not owner:
        raise InputError(f"{name} does not belong to {sign.words}", name, "leave it out")
    require_between(*span, **{name: amount})


def check_findings(findings: tuple[Finding, ...]) -> None:
    """Refuse findings that contradict each other, or none at all.

    Parameters
    ----------
    findings : tuple of Finding
        What was seen.

    Raises
    ------
    InputError
        If nothing is said, a sign stands twice, or ``nothing`` stands beside a sign.
    """
    signs = [item.sign for item in findings]
    if not signs:
        raise InputError(
            "it is not said what was seen", "seen", "choose a sign; nothing, if nothing was seen"
        )
    twice = next((sign for sign in signs if signs.count(sign) > 1), None)
    if twice:
        raise InputError(f"{twice.words} stands twice", "seen", "say it once, clear or doubtful")
    if Sign.NOTHING in signs and len(signs) > 1:
        other = next(sign for sign in signs if sign is not Sign.NOTHING)
        raise InputError(
            f"nothing was seen, and {other.words} was", "seen", "leave one of the two out"
        )
