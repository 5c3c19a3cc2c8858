"""The part of the graph that compares cloths for a costume."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from samite.cloth.model import Cloth
from samite.project.choosing import Choice
from samite.project.graph import Task
from samite.project.model import Costume, JobCloth, JobPiece, Person, Project
from samite.services.job_buy import bought_m
from samite.services.job_card_tasks import card_task, pair_task
from samite.services.job_cards import uses_of_cloth
from samite.services.job_compare import candidate, compare_json
from samite.services.job_lays import Effort, cloth_lay, leave_of, widths_of
from samite.services.job_pieces import (
    ask_piece,
    costume_seams,
    cut_pieces,
    mass_g,
    stretched_of,
)
from samite.services.past import Past
from samite.swatch.trial import Swatch

Answers = Mapping[str, Any]


def compare_tasks(
    project: Project, costume: Costume, effort: Effort, pasts: Mapping[str, Past]
) -> list[Task]:
    """Return what compares the candidates of a costume with its first shell cloth.

    Parameters
    ----------
    project : Project
        The job.
    costume : Costume
        The costume.
    effort : Effort
        How long to search.
    pasts : mapping of str to Past
        What the journal holds of cloths, by label.

    Returns
    -------
    list of Task
        One a candidate, and the comparison; empty without candidates.
    """
    first = costume.pieces[0].cloth
    names = [first, *(name for name in costume.candidates if name != first)]
    cloths = [cloth for name in names if (cloth := project.cloth(name)) is not None]
    if len(cloths) < 2:
        return []
    cards = [_card(project, costume, cloth, pasts) for cloth in cloths]
    pairs = [_pair(project, costume, cloth) for cloth in cloths]
    laid = [_laid_task(project, costume, cloth, effort, pasts) for cloth in cloths]
    tried = [_candidate_task(costume, cloth) for cloth in cloths]
    tasks = [*cards, *pairs, *laid, *tried]
    needs = tuple(task.name for task in tried)

    prices = {cloth.name: cloth.price_per_m for cloth in cloths}

    def compute(had: Answers) -> dict[str, Any]:
        choices = [_priced(had[need], prices) for need in needs]
        reasons = {had[need]["cloth"]: had[need]["reasons"] for need in needs}
        return compare_json(costume.name, choices, {}, reasons)

    facts = [costume.name, prices]
    return [*tasks, Task(f"compare/{costume.name}", "compare/2", facts, needs, compute)]


def _priced(tried: Mapping[str, Any], prices: Mapping[str, float | None]) -> Choice:
    """Return a choice with what its metres cost; prices change more often than lays."""
    values = dict(tried["values"])
    price = prices[tried["cloth"]]
    if price is not None and "metres_m" in values:
        values["cost"] = values["metres_m"] * price
    return Choice(tried["cloth"], values)


def _card(project: Project, costume: Costume, cloth: JobCloth, pasts: Mapping[str, Past]) -> Task:
    """Return the card of a candidate; of a cloth that the costume has, the same as there."""
    uses = [role for one, role in uses_of_cloth(project, cloth.name) if one is costume]
    name = f"trial/{costume.name}/{cloth.name}/card"
    role = uses[0] if uses else costume.name
    return card_task(name, cloth, costume, role, project.units, pasts.get(cloth.label))


def _pair(project: Project, costume: Costume, cloth: JobCloth) -> Task:
    name = f"trial/{costume.name}/{cloth.name}/pair"
    return pair_task(name, project, costume, (cloth.name, cloth.name))


def _laid_task(
    project: Project, costume: Costume, cloth: JobCloth, effort: Effort, pasts: Mapping[str, Past]
) -> Task:
    """Return the pieces of a candidate and their lays, which no card and no price changes."""
    first = costume.pieces[0].cloth
    jobs = tuple(replace(job, cloth=cloth.name) for job in costume.pieces if job.cloth == first)
    tried = replace(costume, pieces=jobs, joins=(), candidates=())
    person = project.person(costume.person) or Person(costume.person)
    need = f"cloth/{cloth.name}"
    bare = replace(cloth, price_per_m=None, on_hand_mm=0.0)
    told = {job.name: _stretched(project, job, pasts) for job in jobs}

    def compute(had: Answers) -> dict[str, Any]:
        return _lay_out(project, tried, bare, had[need], effort, told)

    name = f"trial/{costume.name}/{cloth.name}/laid"
    return Task(name, "trial-laid/2", [tried, person, bare, effort, told], (need,), compute)


def _candidate_task(costume: Costume, cloth: JobCloth) -> Task:
    head = f"trial/{costume.name}/{cloth.name}"
    needs = (f"cloth/{cloth.name}", f"{head}/card", f"{head}/pair", f"{head}/laid")

    def compute(had: Answers) -> dict[str, Any]:
        known, card, pair, laid = (had[need] for need in needs)
        return _weigh(cloth.name, known, (card["card"], pair["seam"]), laid)

    return Task(f"candidate/{costume.name}/{cloth.name}", "candidate/4", cloth.name, needs, compute)


def _stretched(project: Project, job: JobPiece, pasts: Mapping[str, Past]) -> tuple[Swatch, ...]:
    cloth = project.cloth(job.cloth)
    return stretched_of(job, pasts.get(cloth.label) if cloth else None)


def _lay_out(
    project: Project,
    costume: Costume,
    cloth: JobCloth,
    known: Cloth,
    effort: Effort,
    told: Mapping[str, tuple[Swatch, ...]],
) -> dict[str, Any]:
    made = {
        job.name: ask_piece(project, costume, job, known, told[job.name]) for job in costume.pieces
    }
    pieces = [
        one
        for job in costume.pieces
        for one in cut_pieces(costume, job, made[job.name])
        if one.role == "shell"
    ]
    lays = [
        cloth_lay(pieces, known, width, effort.lay_seconds, leave_of((costume,)))
        for width in widths_of(cloth, known)
    ]
    bought = [bought_m(cloth, known, lay) for lay in lays if lay["lay"]["length_mm"] > 0.0]
    seams, _ = costume_seams(costume, made)
    return {
        "metres_m": min(bought) if bought else None,
        "mass_g": mass_g(pieces, known),
        "seam_m": sum(seam.length_mm for seam in seams if seam.kind != "hem") / 1000.0,
        "told": [_laid_words(lay) for lay in lays],
    }


def _weigh(
    name: str,
    known: Cloth,
    cards: tuple[Mapping[str, Any], Mapping[str, Any]],
    laid: Mapping[str, Any],
) -> dict[str, Any]:
    card, pair = cards
    found = candidate(
        name,
        known,
        metres_m=laid["metres_m"],
        mass_g=laid["mass_g"],
        card=card,
        pair=pair,
        seam_m=laid["seam_m"],
    )
    return {
        "cloth": found.name,
        "values": dict(found.values),
        "reasons": [*laid["told"], *_reasons(card, pair)],
    }


def _laid_words(lay: Mapping[str, Any]) -> str:
    wide = f"{lay['width_mm'] / 10:.0f} cm wide"
    length = lay["lay"]["length_mm"]
    return f"laid at {wide}: {length / 10:.0f} cm" if length else f"at {wide}: {lay['lay']['why']}"


def _reasons(card: Mapping[str, Any], pair: Mapping[str, Any]) -> list[str]:
    """Return what stands behind the values of the cards, one sentence each."""
    told = [
        f"pressing: {card['reasons']['press']['claim']}",
        f"needle: {card['reasons']['needle']['claim']}",
        f"cleaning: {card['care']['text']}",
    ]
    if pair.get("why"):
        told.append(f"seam: {'; '.join(pair['why'])}")
    return told
