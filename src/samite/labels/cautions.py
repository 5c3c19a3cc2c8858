"""Cautions that follow from what the cloth is and who wears it."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.use import Use

DEFER = "Local codes and licensed practice go before this."


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution.

    Parameters
    ----------
    kind : str
        ``heat``, ``needle``, ``flame``, ``child``, ``fume`` or ``care``.
    text : str
        What to mind.
    source : str
        Key in ``sources.toml``.
    """

    kind: str
    text: str
    source: str

    def as_dict(self) -> dict[str, str]:
        """Return the JSON form.

        Returns
        -------
        dict of str to str
            Keys ``kind``, ``text`` and ``source``.
        """
        return {"kind": self.kind, "text": self.text, "source": self.source}
