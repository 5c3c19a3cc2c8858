"""Cards as tasks: equal questions have equal keys, whoever asks them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from samite.project.graph import Task
from samite.project.model import Costume, JobCloth, Person, Project
from samite.services.job_cards import cloth_card, pair_card
from samite.services.job_labels import costume_use
from samite.services.past import Past

Answers = Mapping[str, Any]


def card_task(
    name: str, cloth: JobCloth, costume: Costume, role: str, units: str, past: Past | None
) -> Task:
    """Return the bench card of a cloth in a costume.

    Parameters
    ----------
    name : str
        Name of the task.
    cloth : JobCloth
        The cloth.
    costume : Costume
        The costume.
    role : str
        What the cloth becomes in it.
    units : str
        ``metric`` or ``imperial``.
    past : Past or None
        What the journal holds of the cloth.

    Returns
    -------
    Task
        Rests on nothing else.
    """
    facts = [cloth.label, costume.wear, role, units, past]

    def compute(_: Answers) -> dict[str, Any]:
        return cloth_card(cloth, costume.wear, role, units, past)

    return Task(name, "card/3", facts, (), compute)


def pair_task(name: str, project: Project, costume: Costume, pair: tuple[str, str]) -> Task:
    """Return the seam card of two cloths in a costume.

    Parameters
    ----------
    name : str
        Name of the task.
    project : Project
        The job.
    costume : Costume
        The costume.
    pair : tuple of (str, str)
        Names of the cloths; the same twice for a cloth with itself.

    Returns
    -------
    Task
        Rests on its cloths.
    """
    person = project.person(costume.person) or Person(costume.person)
    needs = tuple(dict.fromkeys(f"cloth/{one}" for one in pair))

    def compute(had: Answers) -> dict[str, Any]:
        cloths = tuple(had[f"cloth/{one}"] for one in pair)
        labels = tuple(cloth.reading.text for cloth in cloths)
        return pair_card(cloths, labels, costume_use(costume, person), project.workroom)

    facts = [pair, costume.wear, person.age, project.workroom]
    return Task(name, "pair/3", facts, needs, compute)
