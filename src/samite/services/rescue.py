"""It has gone wrong: what to try on this cloth."""

from __future__ import annotations

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.labels.rescue import rescue, troubles


def rescue_view(trouble: str, label: str) -> dict[str, object]:
    """Return what to try, in order, and when to stop.

    Parameters
    ----------
    trouble : str
        What has happened, in words.
    label : str
        What the bolt says.

    Returns
    -------
    dict of str to object
        In the form ``samite.rescue.v1``.

    Raises
    ------
    InputError
        If the label is malformed or the trouble not known.
    """
    found = rescue(trouble, build_cloth(read_label(label)))
    return {"format": "samite.rescue.v1", **found.as_dict()}


def trouble_names() -> list[str]:
    """Return the troubles known.

    Returns
    -------
    list of str
        Their plain names.
    """
    return [item.name for item in troubles().values()]
