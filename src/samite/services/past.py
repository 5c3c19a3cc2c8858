"""What the journal holds of a cloth, gathered for the answers that learn from it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.garment.bench import KeptIron
from samite.kernel.errors import InputError
from samite.swatch.trial import Swatch

if TYPE_CHECKING:
    from samite.cloth.model import Cloth
    from samite.store.store import Store
    from samite.swatch.update import Alike, Learnt
    from samite.tables.irons import Iron

MOST_ALIKE = 3
"""Other cloths of the kind that are learnt from: those with the most swatches."""

MOST_OF_EACH = 12
"""Newest swatches of each of them."""

MOST_LOOKED_AT = 60
"""Cloths that are looked through for the kind: the newest whose labels share a word."""


@dataclass(frozen=True, slots=True)
class Past:
    """The journal of one cloth, and of cloths alike.

    Parameters
    ----------
    swatches : tuple of Swatch
        Its swatches, those set aside among them.
    alike : tuple of tuple of (str, str, tuple of Swatch)
        Key, label and swatches of other cloths of its kind.
    irons : tuple of tuple of (str, KeptIron)
        The irons that the swatches name, by key.
    iron_key : str
        Key of the iron in hand; empty if it is not kept.
    maker : str
        Whose hand; empty if it is not said.
    """

    swatches: tuple[Swatch, ...]
    alike: tuple[tuple[str, str, tuple[Swatch, ...]], ...] = ()
    irons: tuple[tuple[str, KeptIron], ...] = ()
    iron_key: str = ""
    maker: str = ""

    @property
    def teaches(self) -> bool:
        """Whether a pressed swatch is left that is not set aside.

        Where none is, the answer is that of the tables, to the last digit.
        """
        told = (*self.swatches, *(item for _, _, book in self.alike for item in book))
        return any(item.press and not item.set_aside for item in told)

    @property
    def sewn(self) -> bool:
        """Whether a sewn swatch is kept of it or of a cloth alike, set aside or not."""
        told = (*self.swatches, *(item for _, _, book in self.alike for item in book))
        return any(item.sew for item in told)

    def learn(self, cloth: Cloth, iron: Iron) -> Learnt:
        """Learn from it for a cloth and an iron.

        Parameters
        ----------
        cloth : Cloth
            The cloth.
        iron : Iron
            The iron in hand.

        Returns
        -------
        Learnt
            What is known now.
        """
        from samite.services.iron import kept_iron_profile
        from samite.swatch.update import Asked, learn

        return learn(
            Asked(cloth, iron, self.iron_key, self.maker),
            self.swatches,
            alike=self._alike(),
            irons={key: kept_iron_profile(kept) for key, kept in self.irons},
        )

    def sewn_alike(self) -> list[tuple[Cloth, tuple[Swatch, ...]]]:
        """Return the other cloths of the kind with their swatches, for the seams.

        Returns
        -------
        list of tuple of (Cloth, tuple of Swatch)
            One a cloth of which a seam was sewn.
        """
        return [
            (built_cloth(label), book)
            for _, label, book in self.alike
            if any(item.sew for item in book)
        ]

    def _alike(self) -> list[Alike]:
        from samite.swatch.update import Alike

        return [
            Alike(key, built_cloth(label), book)
            for key, label, book in self.alike
            if any(item.press for item in book)
        ]


def past_of(path: Path | None, label: str, *, iron: str = "", maker: str = "") -> Past | None:
    """Return what the journal holds of a cloth.

    Parameters
    ----------
    path : Path or None
        File of the store; it need not be there.
    label : str
        What the bolt says.
    iron : str
        Name or key of the iron in hand, if it is kept.
    maker : str
        Whose hand; empty for whoever made the last swatch.

    Returns
    -------
    Past or None
        None if there is no store, or it holds no swatch of this cloth and none of its kind.
    """
    if path is None or not path.is_file():
        return None
    from samite.store.kinds import IRON
    from samite.store.store import Store

    with Store(path, write=False) as store:
        cloth = store.cloth_of(label)
        kept = store.swatches_of(cloth.key, most=store.count_of(cloth.key)) if cloth else []
        own = tuple(item.value for item in kept)
        alike = _alike_in(store, label, cloth.key if cloth else "")
        if not own and not alike:
            return None
        told = (*own, *(swatch for _, _, swatches in alike for swatch in swatches))
        keys = {item.press.iron_key for item in told if item.press and item.press.iron_key}
        irons = tuple((key, store.get(IRON, key).value) for key in sorted(keys))
        hand = maker or (own[0].maker if own else "")
        return Past(own, alike, irons, _iron_key(store, iron), hand)


def _iron_key(store: Store, named: str) -> str:
    """Return the key of a kept iron; a file's iron is not kept and has none."""
    from samite.services.journal_views import find_named
    from samite.store.kinds import IRON

    if not named:
        return ""
    try:
        return find_named(store, IRON, named).key
    except InputError:
        return ""


def _alike_in(
    store: Store, label: str, own_key: str
) -> tuple[tuple[str, str, tuple[Swatch, ...]], ...]:
    """Return other cloths of the kind with the newest of their swatches."""
    from samite.store.kinds import CLOTH

    counts = store.counts()
    there = [
        item
        for item in reversed(store.all(CLOTH))
        if item.key != own_key and counts.get(item.key, 0)
    ]
    words = _words(label)
    there = [item for item in there if words & _words(item.value.label)]
    wanted = kind_of(label) if there else ()
    same = [item for item in there[:MOST_LOOKED_AT] if kind_of(item.value.label) == wanted]
    same.sort(key=lambda item: (-counts[item.key], item.key))
    found = []
    for item in same[:MOST_ALIKE]:
        kept = store.swatches_of(item.key, most=MOST_OF_EACH)
        open_ones = tuple(k.value for k in kept if not k.value.set_aside)
        if open_ones:
            found.append((item.key, item.value.label, open_ones))
    return tuple(found)


def _words(label: str) -> set[str]:
    """Return the words of a label that can name a cloth: cheaper than to read it."""
    return set(re.findall(r"[^\W\d_]{4,}", label.casefold()))


@lru_cache(maxsize=1024)
def built_cloth(label: str) -> Cloth:
    """Return the cloth that a label stands for, built once.

    Parameters
    ----------
    label : str
        What the bolt says.

    Returns
    -------
    Cloth
        The cloth.
    """
    return build_cloth(read_label(label))


@lru_cache(maxsize=1024)
def kind_of(label: str) -> tuple[object, ...]:
    """Return what makes cloths alike: their structure, and the main fibre of every part.

    Parameters
    ----------
    label : str
        What the bolt says.

    Returns
    -------
    tuple of object
        Equal for cloths of one kind; of a label that cannot be read, the label itself.
    """
    try:
        cloth = built_cloth(label)
    except InputError:
        return (label,)
    parts = tuple(
        sorted(
            (part.kind.value, max(part.fibres, key=lambda item: item.percent).fibre)
            if part.fibres
            else (part.kind.value, "")
            for part in cloth.parts
        )
    )
    return (cloth.structure_key or cloth.construction, parts)
