"""Which cloth of the journal is asked about, by label or key, with all that is kept of it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from samite.kernel.errors import InputError
from samite.services.past import Past, past_of


@dataclass(frozen=True, slots=True)
class Known:
    """A cloth with its journal.

    Parameters
    ----------
    key : str
        Its key in the store; empty if it is not kept.
    label : str
        What the bolt says.
    past : Past
        Its swatches, and those of cloths alike; empty where nothing is kept.
    """

    key: str
    label: str
    past: Past

    @property
    def count(self) -> int:
        """Swatches that are not set aside [1]."""
        return sum(not item.set_aside for item in self.past.swatches)

    @property
    def aside(self) -> int:
        """Swatches that are set aside [1]."""
        return len(self.past.swatches) - self.count


def known_of(path: Path, label: str, *, iron_name: str = "", maker: str = "") -> Known:
    """Gather what is kept of a cloth.

    Parameters
    ----------
    path : Path
        File of the store; it need not be there.
    label : str
        What the bolt says, or a key.
    iron_name : str
        Name or key of the iron in hand, if it is kept.
    maker : str
        Whose hand; empty for whoever made the last swatch.

    Returns
    -------
    Known
        Without swatches if none is kept.
    """
    key, text = _found(path, label)
    past = past_of(path, text, iron=iron_name, maker=maker)
    return Known(key, text, past or Past((), maker=maker))


def _found(path: Path, label: str) -> tuple[str, str]:
    """Return key and label of the cloth; a label that is not kept stands for itself."""
    if not path.is_file():
        return "", label
    from samite.services.journal_views import find_cloth
    from samite.store.store import Store

    try:
        with Store(path, write=False) as store:
            cloth = find_cloth(store, label)
            return cloth.key, cloth.value.label
    except InputError:
        return "", label
