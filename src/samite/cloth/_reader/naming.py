"""Which cloth and which surfaces the words of a label name."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from samite.cloth._reader.text import LabelText
from samite.cloth.reading import Component, FibreShare, PartKind
from samite.kernel.errors import TableError
from samite.tables.aliases import NameMatch
from samite.tables.loader import read_toml
from samite.tables.structures import is_kind_of, structure, structure_finder, structures
from samite.tables.surfaces import surface, surface_finder

ELASTIC_MEANS_KNIT_PERCENT = 2.0
"""Share of elastane from which a cloth is taken to stretch [%]."""

SHORT_PILE_MM = 12.0
"""Fur with a pile up to this height is short [mm]."""

_WEAK = frozenset({"knit", "woven", "lining"})
_PHRASE = re.compile(
    r"[,;|/\n()\x01]|\s-\s|\b(?:with|on|over|mit|auf|avec|sur|con|sobre|su|plus)\b"
)
_NOT_A_SURFACE = re.compile(
    r"\b(?:un|not\s|no\s|without\s|non[\s-]|ohne\s|sans\s|sin\s)(?:printed|print|coated|coating|"
    r"sequins?|glitter|crushed|pleated|foil|beads?|embroidery|embroidered|flock(?:ed)?)\b"
)
_COAT_FIBRES = re.compile(r"\b(?:wool\w*|\w*wolle|cashmere|alpaca|mohair|camel|laine|lana|tweed)\b")
_OPEN_MATERIALS = frozenset({"adhesive"})


@dataclass(frozen=True, slots=True)
class Facts:
    """What refines the name of a cloth.

    Parameters
    ----------
    words : frozenset of str
        ``stretch``, ``rigid``, ``sheer``.
    construction : str or None
        The label's own word.
    surfaces : frozenset of str
        Keys of surfaces.
    structures : frozenset of str
        Keys of all cloths that the label names, with their families.
    components : tuple of Component
        Parts with their fibres.
    pile_height_mm : float or None
        Pile height [mm].
    """

    words: frozenset[str]
    construction: str | None
    surfaces: frozenset[str]
    structures: frozenset[str]
    components: tuple[Component, ...]
    pile_height_mm: float | None

    def hold(self, fact: str) -> bool:
        """Tell whether a fact of the refinement table holds.

        Parameters
        ----------
        fact : str
            ``"surface:flock"``, ``"fibre:silk"``, ``"only:cotton"`` and so on.

        Returns
        -------
        bool
            True if the label says so.

        Raises
        ------
        TableError
            If the table uses an unknown kind of fact.
        """
        kind, _, name = fact.partition(":")
        if kind == "word":
            return name in self.words
        if kind == "surface":
            return name in self.surfaces
        if kind == "structure":
            return name in self.structures
        if kind == "construction":
            return name == self.construction
        if kind == "pile" and name in ("long", "short"):
            return self.pile_height_mm is not None and (
                (self.pile_height_mm > SHORT_PILE_MM) == (name == "long")
            )
        return self._of_fibre(kind, name)

    def _of_fibre(self, kind: str, name: str) -> bool:
        part = {"pile": PartKind.PILE, "coating": PartKind.COATING}.get(kind, PartKind.BASE)
        if kind not in ("fibre", "only", "pile", "coating", "base"):
            raise TableError(
                f"unknown fact {kind}:{name}", "refinements.toml", "use one of those at its head"
            )
        shares = {
            one.fibre: one.percent
            for component in self.components
            if component.part is part
            for one in component.fibres
        }
        if kind == "only":
            return set(shares) == {name}
        needed = ELASTIC_MEANS_KNIT_PERCENT if name == "elastane" else 0.0
        return shares.get(name, -1.0) >= needed


def structure_names(label: LabelText) -> list[NameMatch]:
    """Return the cloths named in what has not been read.

    Parameters
    ----------
    label : LabelText
        The label.

    Returns
    -------
    list of NameMatch
        In the order of the text.
    """
    found = structure_finder().find(label.rest)
    coat = _COAT_FIBRES.search(label.rest) is not None
    return [name for name in found if coat or name.alias != "coating"]


def surface_names(label: LabelText) -> list[NameMatch]:
    """Return the surfaces named in what has not been read.

    Parameters
    ----------
    label : LabelText
        The label.

    Returns
    -------
    list of NameMatch
        In the order of the text, without those that the label denies.
    """
    plain = label.rest
    for denied in _NOT_A_SURFACE.finditer(plain):
        gap = "\x01" * (denied.end() - denied.start())
        plain = plain[: denied.start()] + gap + plain[denied.end() :]
    return surface_finder().find(plain)


def head_structure(label: LabelText, names: list[NameMatch]) -> str | None:
    """Return the cloth that a label is about.

    Parameters
    ----------
    label : LabelText
        The label.
    names : list of NameMatch
        All cloths it names.

    Returns
    -------
    str or None
        The last name of the first phrase that has one; of that name a more special one if the
        label gives it elsewhere.
    """
    strong = [name for name in names if name.key not in _WEAK] or names
    if not strong:
        return None
    stops = [found.start() for found in _PHRASE.finditer(label.rest)]
    stop = next((place for place in stops if place >= strong[0].end), len(label.rest))
    head = [name for name in strong if name.start < stop][-1].key
    special = [name.key for name in strong if name.key != head and is_kind_of(name.key, head)]
    return special[0] if special else head


def usual_structure(keys: Iterable[str], construction: str | None, notes: list[str]) -> str | None:
    """Return the cloth that nearly always lies under a surface, where the label names none.

    Parameters
    ----------
    keys : iterable of str
        Keys of surfaces.
    construction : str or None
        The label's own word.
    notes : list of str
        Takes up what is assumed.

    Returns
    -------
    str or None
        Key of the structure; None if the surfaces do not tell, or the label's word speaks
        against it.
    """
    for key in keys:
        usual = surface(key).usual_structure
        if usual and construction in (None, structure(usual).construction):
            notes.append(
                f"{surface(key).name} are nearly always on {structure(usual).name}: assumed"
            )
            return usual
    return None


def named_structures(names: list[NameMatch]) -> frozenset[str]:
    """Return the keys of cloths with those of their families.

    Parameters
    ----------
    names : list of NameMatch
        Cloths named.

    Returns
    -------
    frozenset of str
        Keys in the structure table.
    """
    found: set[str] = set()
    for name in names:
        key = name.key
        while key:
            found.add(key)
            key = structure(key).family
    return frozenset(found)


def refine(head: str, facts: Facts) -> str:
    """Make a general name special.

    Parameters
    ----------
    head : str
        Key of the cloth that the label names.
    facts : Facts
        What else it says.

    Returns
    -------
    str
        Key of the structure, `head` if nothing makes it special.

    Raises
    ------
    TableError
        If the refinement table is malformed.
    """
    seen = {head}
    while True:
        following = next(
            (to for sources, any_of, all_of, to in _rules() if head in sources
             and to not in seen and _applies(facts, any_of, all_of)),
            None,
        )  # fmt: skip
        if following is None:
            return head
        head = following
        seen.add(head)


def surface_components(
    keys: Iterable[str], have: Iterable[Component], notes: list[str]
) -> list[Component]:
    """Return the parts that surfaces add to those that a label names.

    Parameters
    ----------
    keys : iterable of str
        Keys of surfaces, in the order of the text.
    have : iterable of Component
        Parts read so far.
    notes : list of str
        Takes up what is assumed.

    Returns
    -------
    list of Component
        Each kind of part once; an adhesive without a material, for nobody can tell.
    """
    found: dict[PartKind, Component] = {}
    known = {component.part: component for component in have}
    for key in dict.fromkeys(keys):
        for part in surface(key).parts:
            kind = PartKind(part.part)
            if kind in known or kind in found:
                continue
            material = "" if part.part in _OPEN_MATERIALS else part.material
            fibres = (FibreShare(material, 100.0),) if material else ()
            found[kind] = Component(kind, fibres, stated=kind is not PartKind.ADHESIVE)
            if material:
                notes.append(f"{surface(key).name}: {kind.value} assumed to be {material}")
    return list(found.values())


def _applies(facts: Facts, any_of: tuple[str, ...], all_of: tuple[str, ...]) -> bool:
    return any(facts.hold(fact) for fact in any_of) and all(facts.hold(fact) for fact in all_of)


@cache
def _rules() -> tuple[tuple[frozenset[str], tuple[str, ...], tuple[str, ...], str], ...]:
    rules = []
    for entry in read_toml("refinements.toml")["rule"]:
        _check_rule(entry)
        rules.append(
            (
                frozenset(entry["from"]),
                tuple(entry["any"]),
                tuple(entry.get("all", ())),
                entry["to"],
            )
        )
    return tuple(rules)


def _check_rule(entry: Mapping[str, list[str]]) -> None:
    unknown = [key for key in (*entry["from"], entry["to"]) if key not in structures()]
    if unknown:
        raise TableError(
            f"refinements.toml names the unknown structure {unknown[0]}",
            "refinements.toml",
            "mend the rule",
        )
