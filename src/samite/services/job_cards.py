"""Bench cards and seam cards of a costume job, as documents that are kept."""

from __future__ import annotations

from typing import Any

from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.garment.workroom import Workroom
from samite.project.model import Costume, JobCloth, Project
from samite.services.card import card_json, make_card
from samite.services.paper_words import card_sheet
from samite.services.past import Past
from samite.services.seam import seam_of
from samite.services.seam_json import seam_json
from samite.services.seam_picture import seam_svg
from samite.store.codec import to_plain


def cloth_card(
    cloth: JobCloth, wear: str, role: str, units: str, past: Past | None = None
) -> dict[str, Any]:
    """Return the bench card of a cloth for one use, with its press window.

    Parameters
    ----------
    cloth : JobCloth
        The cloth.
    wear : str
        What it has to bear.
    role : str
        What it becomes.
    units : str
        ``metric`` or ``imperial``.
    past : Past or None
        What the journal holds of it.

    Returns
    -------
    dict of str to object
        ``card`` in the form ``samite.card.v1``, ``sheet`` for paper.
    """
    card = make_card(cloth.label, wear, window=True, past=past)
    return {
        "card": card_json(card),
        "sheet": to_plain(card_sheet(card, role=role, units=units)),
    }


def pair_card(
    cloths: tuple[Cloth, ...], labels: tuple[str, ...], use: Use, workroom: Workroom
) -> dict[str, Any]:
    """Return the seam card of cloths that meet, with its press window.

    Parameters
    ----------
    cloths : tuple of Cloth
        Two or three.
    labels : tuple of str
        Their labels.
    use : Use
        What the seam has to bear.
    workroom : Workroom
        What is on hand.

    Returns
    -------
    dict of str to object
        ``seam`` in the form ``samite.seam.v1``, ``svg`` for looking at.
    """
    sheet = seam_of(cloths, use, workroom, labels=labels, window=True)
    return {"seam": seam_json(sheet), "svg": seam_svg(sheet)}


def uses_of_cloth(project: Project, name: str) -> tuple[tuple[Costume, str], ...]:
    """Return where a cloth is used.

    Parameters
    ----------
    project : Project
        The job.
    name : str
        Name of the cloth.

    Returns
    -------
    tuple of (Costume, str)
        Costume, and what the cloth becomes in it.
    """
    found = []
    for costume in project.costumes:
        jobs = [
            job.name if role == "shell" else f"{role} of the {job.name}"
            for job in costume.pieces
            for role, used in job.cloths
            if used == name
        ]
        if jobs:
            found.append((costume, f"{costume.name}: {', '.join(jobs)}"))
    return tuple(found)
