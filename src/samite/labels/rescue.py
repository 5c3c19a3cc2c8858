"""What to do when a cloth has been hurt: ordered steps on this cloth, and when to stop."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from samite.cloth.model import Cloth
from samite.kernel.errors import InputError, TableError, UnknownNameError
from samite.kernel.evidence import Evidence, Grade
from samite.labels.rules.caution import Caution, caution
from samite.labels.rules.hands import fume_cautions, heat_cautions
from samite.labels.traits import ACTS, TRAITS, forbidden_acts
from samite.tables.loader import read_toml

FILE = "rescue.toml"
_WORD = re.compile(r"\w+")
HOT = frozenset({"iron", "steam"})
CHEMICALS = {
    "peroxide": "peroxide bites skin and eyes: gloves, glasses, an open window, never with vinegar",
    "solvent": "solvents burn and numb: gloves, an open window, no flame and no iron near",
}


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a rescue.

    Parameters
    ----------
    do : str
        What to do.
    why : str
        Why it helps.
    act : str
        What it does to the cloth, one of `samite.labels.traits.ACTS`; empty for nothing risky.
    when : frozenset of str
        Traits that the cloth must have.
    unless : frozenset of str
        Traits that it must not have.
    evidence : Evidence
        Source and grade.
    """

    do: str
    why: str
    act: str
    when: frozenset[str]
    unless: frozenset[str]
    evidence: Evidence

    def fits(self, cloth: Cloth) -> bool:
        """Tell whether the step is meant for a cloth.

        Parameters
        ----------
        cloth : Cloth
            The cloth.

        Returns
        -------
        bool
            True if it has all traits of `when` and none of `unless`.
        """
        has = all(TRAITS[name](cloth) for name in self.when)
        return has and not any(TRAITS[name](cloth) for name in self.unless)

    def as_dict(self) -> dict[str, str]:
        """Return the JSON form.

        Returns
        -------
        dict of str to str
            Keys ``do``, ``why``, ``source`` and ``grade``.
        """
        return {
            "do": self.do,
            "why": self.why,
            "source": self.evidence.source,
            "grade": self.evidence.grade.value,
        }


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something that goes wrong.

    Parameters
    ----------
    key : str
        Its name in the table.
    name : str
        Its name in words.
    words : tuple of str
        What people call it.
    of : frozenset of str
        Traits of which the cloth must have one.
    steps : tuple of Step
        In order, for all cloths.
    stop : str
        When to stop and recut.
    """

    key: str
    name: str
    words: tuple[str, ...]
    of: frozenset[str]
    steps: tuple[Step, ...]
    stop: str

    def happens_to(self, cloth: Cloth) -> bool:
        """Tell whether the trouble can happen to a cloth.

        Parameters
        ----------
        cloth : Cloth
            The cloth.

        Returns
        -------
        bool
            True if it has one of the traits.
        """
        return any(TRAITS[name](cloth) for name in self.of)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A step that would help another cloth and harm this one.

    Parameters
    ----------
    do : str
        The step.
    because : str
        What it would do here.
    """

    do: str
    because: str


@dataclass(frozen=True, slots=True)
class Rescue:
    """What to do about a trouble on one cloth.

    Parameters
    ----------
    trouble : str
        The trouble in words.
    key : str
        Its name in the table.
    cloth : str
        The cloth in words.
    steps : tuple of Step
        In order.
    left_out : tuple of LeftOut
        Usual steps that this cloth does not bear.
    stop : str
        When to stop and recut.
    cautions : tuple of Caution
        What to mind meanwhile.
    """

    trouble: str
    key: str
    cloth: str
    steps: tuple[Step, ...]
    left_out: tuple[LeftOut, ...]
    stop: str
    cautions: tuple[Caution, ...]

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys ``trouble``, ``key``, ``cloth``, ``steps``, ``left_out``, ``stop`` and
            ``cautions``.
        """
        return {
            "trouble": self.trouble,
            "key": self.key,
            "cloth": self.cloth,
            "steps": [step.as_dict() for step in self.steps],
            "left_out": [{"do": item.do, "because": item.because} for item in self.left_out],
            "stop": self.stop,
            "cautions": [item.as_dict() for item in self.cautions],
        }


def rescue(trouble: str, cloth: Cloth) -> Rescue:
    """Say what to do about a trouble on this cloth.

    Parameters
    ----------
    trouble : str
        What went wrong, in the person's words: ``"shine on the velvet"``.
    cloth : Cloth
        The cloth.

    Returns
    -------
    Rescue
        The steps that this cloth bears, in order, those it does not, and when to stop.

    Raises
    ------
    UnknownNameError
        If no trouble is called that; the hint lists all.
    InputError
        If the words fit two troubles, or the trouble cannot happen to this cloth.

    Notes
    -----
    Steps are common practice or guesses, each graded. Errs to the safe side: what the cloth may not
    bear is left out and said.

    References
    ----------
    ``common-practice``: no source.
    """
    found = find_trouble(trouble, cloth)
    forbidden = forbidden_acts(cloth)
    fitting = [step for step in found.steps if step.fits(cloth)]
    kept = tuple(step for step in fitting if step.act not in forbidden)
    left_out = tuple(
        LeftOut(step.do, forbidden[step.act]) for step in fitting if step.act in forbidden
    )
    return Rescue(
        trouble=found.name,
        key=found.key,
        cloth=cloth.structure_name,
        steps=kept,
        left_out=left_out,
        stop=found.stop,
        cautions=_cautions(found, kept, cloth),
    )


def find_trouble(trouble: str, cloth: Cloth) -> Trouble:
    """Find the trouble that a person's words mean on this cloth.

    Parameters
    ----------
    trouble : str
        What went wrong.
    cloth : Cloth
        The cloth: shine on a pile is another trouble than shine on flat cloth.

    Returns
    -------
    Trouble
        The one of that very name, else the one whose longest word is in the text.

    Raises
    ------
    UnknownNameError
        If no trouble is called that; the hint lists all.
    InputError
        If the words fit two troubles alike, or the trouble cannot happen to this cloth.
    """
    said = _words(trouble)
    for item in troubles().values():
        if _words(item.name) == said and item.happens_to(cloth):
            return item
    fits = {item: _longest(item, said) for item in troubles().values()}
    named = {item: length for item, length in fits.items() if length}
    if not named:
        known = "; ".join(item.name for item in troubles().values())
        raise UnknownNameError(f"no trouble is called {trouble[:60]!r}", "trouble", known)
    possible = {item: length for item, length in named.items() if item.happens_to(cloth)}
    if not possible:
        raise InputError(
            f"{_names(named)} does not happen to {cloth.structure_name}",
            "trouble",
            "say what you see on the cloth, or give its label again",
        )
    best = [item for item, length in possible.items() if length == max(possible.values())]
    if len(best) > 1:
        raise InputError(f"{trouble[:60]!r} fits {_names(best)}", "trouble", "say which")
    return best[0]


def _words(text: str) -> str:
    return " " + " ".join(_WORD.findall(text.casefold())) + " "


@cache
def troubles() -> Mapping[str, Trouble]:
    """Return every known trouble.

    Returns
    -------
    mapping of str to Trouble
        By key, in the order of the table.

    Raises
    ------
    TableError
        If a step names a trait or an act that does not exist, or has no grade that exists.
    """
    return MappingProxyType({key: _trouble(key, entry) for key, entry in read_toml(FILE).items()})


def _names(items: Iterable[Trouble]) -> str:
    return " and ".join(item.name for item in items)


def _longest(item: Trouble, said: str) -> int:
    return max((len(word) for word in item.words if f" {word} " in said), default=0)


def _trouble(key: str, entry: Mapping[str, Any]) -> Trouble:
    steps = tuple(_step(key, step) for step in entry["steps"])
    of = _traits(key, entry["of"])
    return Trouble(key, entry["name"], tuple(entry["words"]), of, steps, entry["stop"])


def _step(key: str, entry: Mapping[str, Any]) -> Step:
    act, grade = entry.get("act", ""), entry.get("grade", Grade.COMMON_PRACTICE.value)
    if act and act not in ACTS:
        raise TableError(f"{key}: {act!r} is no act", FILE, f"one of {', '.join(ACTS)}")
    if grade not in set(Grade):
        raise TableError(f"{key}: {grade!r} is no grade", FILE, ", ".join(Grade))
    source = "guess" if grade == Grade.GUESS else "common-practice"
    return Step(
        do=entry["do"],
        why=entry["why"],
        act=act,
        when=_traits(key, entry.get("when", ())),
        unless=_traits(key, entry.get("unless", ())),
        evidence=Evidence(source, Grade(grade)),
    )


def _traits(key: str, names: Iterable[str]) -> frozenset[str]:
    strange = sorted(set(names) - TRAITS.keys())
    if strange:
        raise TableError(f"{key}: {strange[0]!r} is no trait", FILE, f"one of {', '.join(TRAITS)}")
    return frozenset(names)


def _cautions(trouble: Trouble, steps: tuple[Step, ...], cloth: Cloth) -> tuple[Caution, ...]:
    acts = {step.act for step in steps}
    hot = bool(acts & HOT) or trouble.key == "sole"
    chemicals = [caution("fume", text) for act, text in CHEMICALS.items() if act in acts]
    melted = hot or trouble.key == "melted-spot"
    fumes = fume_cautions(cloth) if melted else []
    return (*heat_cautions(cloth, ironed=hot), *fumes, *chemicals)
