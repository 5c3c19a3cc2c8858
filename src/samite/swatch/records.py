"""What a record says: which doubts it speaks of, what was seen of each, and how far it is believed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from samite.swatch.exposure import Exposure
from samite.swatch.seen import Finding, Sign, Sureness
from samite.tables.learning import learning_value

SIGNS_OF: dict[str, frozenset[Sign]] = {
    "glazes": frozenset({Sign.SHINE, Sign.STUCK, Sign.MELTED}),
    "scorches": frozenset({Sign.COLOUR_OFF, Sign.SHINE}),
    "dulls": frozenset({Sign.COLOUR_OFF, Sign.SHINE}),
    "loosens": frozenset({Sign.STUCK, Sign.COLOUR_OFF, Sign.MELTED}),
    "curls": frozenset({Sign.MELTED, Sign.SHRUNK, Sign.STUCK, Sign.COLOUR_OFF}),
    "shrinks": frozenset({Sign.SHRUNK}),
    "is crushed": frozenset({Sign.PILE_CRUSHED}),
    "spots": frozenset({Sign.WATER_SPOT}),
}
"""By which signs each way of being hurt shows; at least one of them."""

FAIR = 0.5
"""Chance of each answer in a record that says nothing of what was tried [-]."""

ONE_SIGN = 0.8
"""Of such records with damage, those that name one kind of damage [-]."""


@dataclass(frozen=True, slots=True)
class Group:
    """Doubts of which a record says one thing: that something happened, or did not.

    Parameters
    ----------
    reaches : tuple of int
        Places in the exposure.
    if_so : float
        Chance of what is said if it happened [-].
    if_not : float
        Chance of what is said if it did not [-].
    sets : bool
        Whether it is the setting of the seam, of which fibres have shares; else damage, for which
        one part is enough.
    """

    reaches: tuple[int, ...]
    if_so: float
    if_not: float
    sets: bool = False


@dataclass(frozen=True, slots=True)
class Record:
    """What a swatch says of an exposure.

    Parameters
    ----------
    groups : tuple of Group
        What is said.
    misread : float
        Chance that it says nothing of what was tried [-].
    otherwise : float
        Chance of this very record in that case [-].
    unexplained : tuple of Sign
        Signs of damage that no part of this cloth accounts for: nothing is learnt from them here.
    """

    groups: tuple[Group, ...]
    misread: float
    otherwise: float
    unexplained: tuple[Sign, ...] = ()


def read_record(exposure: Exposure, findings: tuple[Finding, ...]) -> Record:
    """Read what a record says of the doubts that its trial speaks of.

    Parameters
    ----------
    exposure : tuple of Reach
        What the trial put the cloth to.
    findings : tuple of Finding
        What was seen.

    Returns
    -------
    Record
        Its sayings. A sign that is not named was looked for and not seen.

    Notes
    -----
    Each named sign says that one at least of the ways of being hurt that show so has happened; a
    way of being hurt of which no sign is named has not. Signs of the same ways count once. A
    seam that is not called flat was not flat, with a larger doubt: who names damage forgets it.
    """
    seen = {item.sign: item for item in findings}
    kinds = _kinds(exposure)
    groups = _unseen(kinds, seen)
    unexplained: list[Sign] = []
    said: dict[tuple[int, ...], list[Finding]] = {}
    for finding in findings:
        if not finding.sign.harms or not finding.sign.by_pressing:
            continue
        sources = tuple(
            sorted(
                i
                for hurt, places in kinds.items()
                if finding.sign in SIGNS_OF[hurt]
                for i in places
            )
        )
        if sources:
            said.setdefault(sources, []).append(finding)
        elif finding.sign is not Sign.CRACKED:
            unexplained.append(finding.sign)
    groups += [
        Group(places, 1.0 - (wrong := _wrong(items)), wrong) for places, items in said.items()
    ]
    harmed = len(said)
    sets = tuple(i for i, reach in enumerate(exposure) if reach.hurt == "set")
    if sets:
        groups.append(_set_group(sets, seen))
    misread = learning_value("swatch misread_percent").value / 100.0
    otherwise = _otherwise(len(kinds), harmed) * (FAIR if sets else 1.0)
    return Record(tuple(groups), misread, otherwise, tuple(unexplained))


def _kinds(exposure: Exposure) -> dict[str, tuple[int, ...]]:
    found: dict[str, tuple[int, ...]] = {}
    for index, reach in enumerate(exposure):
        if reach.hurt != "set":
            found[reach.hurt] = (*found.get(reach.hurt, ()), index)
    return found


def _unseen(kinds: dict[str, tuple[int, ...]], seen: dict[Sign, Finding]) -> list[Group]:
    nothing = seen.get(Sign.NOTHING)
    wrong = _wrong([nothing]) if nothing else 0.0
    return [
        Group(places, wrong, 1.0 - wrong)
        for hurt, places in kinds.items()
        if not SIGNS_OF[hurt] & seen.keys()
    ]


def _set_group(sets: tuple[int, ...], seen: dict[Sign, Finding]) -> Group:
    flat, unsaid = seen.get(Sign.SET_FLAT), unsaid_share()
    if flat:
        wrong = _wrong([flat])
        return Group(sets, (1.0 - wrong) * (1.0 - unsaid), wrong, sets=True)
    return Group(sets, unsaid, 1.0, sets=True)


def unsaid_share() -> float:
    """Return how often a seam that lies flat is not called so.

    Returns
    -------
    float
        Share [-].
    """
    return learning_value("sign unsaid_percent").value / 100.0


def _wrong(findings: Iterable[Finding]) -> float:
    """Return the chance that the contrary is true: none beyond misreading where one is clear."""
    doubtful = learning_value("sign doubtful_percent").value / 100.0
    return min(0.0 if item.sureness is Sureness.CLEAR else doubtful for item in findings)


def _otherwise(kinds: int, harmed: int) -> float:
    """Return the chance that a record of nothing that was tried names so many kinds of damage."""
    if kinds == 0:
        return 1.0
    if harmed == 0:
        return FAIR
    if harmed == 1 or kinds == 1:
        return (1.0 - FAIR) * (ONE_SIGN if kinds > 1 else 1.0) / kinds
    return (1.0 - FAIR) * (1.0 - ONE_SIGN) / max(float(2**kinds) - 1.0 - kinds, 1.0)
