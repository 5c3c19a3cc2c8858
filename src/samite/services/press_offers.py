"""What to do where no press is safe: offers, each with its chances where they can be computed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from samite.cloth.reading import PartKind
from samite.press.decide import WORTH_TRYING
from samite.press.techniques import HOVER, Technique
from samite.press.window import DAMAGE_ALLOWED
from samite.services.press_words import ORDER_WORDS

if TYPE_CHECKING:
    from samite.cloth.model import Cloth
    from samite.press.decide import Window
    from samite.press.recipe import Recipe
    from samite.services.press_edge import EdgePress

FUR_MM = 2.5
"""Pile from which a seam is not topstitched: it would be caught in the stitches [mm]."""

LONGEST_HOVER_S = 15.0


LAYING = {
    "open": "open it",
    "to one side": "fold it to one side",
    "french": "fold it to one side",
    "edge": "smooth it",
}
"""What the fingers do with a seam, by how it shall lie."""


def offers(
    cloth: Cloth,
    limits: Recipe,
    window: Window | None,
    edge: EdgePress | None,
    *,
    order: str,
    harm: float,
) -> list[dict[str, object]]:
    """Return what to do instead of a press that is not safe.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    limits : Recipe
        The recipe from limits: it knows whether the cloth bears steam.
    window : Window or None
        The press window, if one was computed.
    edge : EdgePress or None
        The press along the line, if one is worth trying.
    order : str
        How the seam shall lie.
    harm : float
        Chance of damage of the press that these stand in for: none may harm more [-].

    Returns
    -------
    list of dict of str to object
        ``do``, ``text``; ``chance_set`` and ``chance_damage`` where they are computed.
    """
    found: list[dict[str, object] | None] = [_finger(cloth, LAYING[order])]
    if edge:
        found.append(_edge(edge, LAYING[order]))
    steam = _steam(limits, window, max(harm, DAMAGE_ALLOWED))
    if steam:
        found.append(steam)
    found += [_weight(cloth), _stitch(cloth)]
    return [item for item in found if item]


def _offer(do: str, text: str, chances: tuple[float, float] | None = None) -> dict[str, object]:
    found: dict[str, object] = {"do": do, "text": text}
    if chances:
        found |= {"chance_set": round(chances[0], 4), "chance_damage": round(chances[1], 4)}
    return found


def _finger(cloth: Cloth, laying: str) -> dict[str, object]:
    if cloth.has(PartKind.BEADS, PartKind.SEQUINS):
        text = "clear the allowance of beads and sequins, then crease it with a seam roller or a thumbnail"
    elif cloth.pile_height_mm >= FUR_MM:
        text = f"shear the pile off the allowances, then {laying} with the fingers"
    else:
        text = f"{laying} with the fingers, a seam roller or the back of a spoon, along the line"
    return _offer("finger press", text)


def _edge(edge: EdgePress, laying: str) -> dict[str, object]:
    seconds = edge.chances.seconds[edge.index]
    early = "; then ".join(f"{step.technique.words}, {step.seconds:g} s" for step in edge.plan[:-1])
    last = edge.plan[-1].technique
    words = f"{last.words}, {seconds:g} s"
    words = f"{early}; then {words}" if early else words
    text = (
        f"press the seam {ORDER_WORDS['edge']}, the iron's edge on its line alone: {words}; "
        f"then {laying} with the fingers"
    )
    return _offer("edge-only press", text, (edge.chance_set, edge.chance_damage))


def _steam(limits: Recipe, window: Window | None, harm: float) -> dict[str, object] | None:
    """Steam without touching, where the cloth bears it, the iron makes it and it sets anything."""
    if window is None or limits.steam in ("none", "hover") or not _steams(window):
        return None
    chances = next((c for c in window.chances if c.technique == HOVER), None)
    if chances is None:
        return None
    borne = [
        (float(chances.chance_good[i]), i)
        for i, s in enumerate(chances.seconds)
        if s <= LONGEST_HOVER_S
        and chances.chance_damage[i] <= harm
        and chances.chance_set[i] >= WORTH_TRYING
    ]
    if not borne:
        return None
    _, best = max(borne)
    text = (
        f"steam it from 2 cm for {chances.seconds[best]:g} s without touching, then smooth it "
        "with the fingers till it is cool"
    )
    both = (float(chances.chance_set[best]), float(chances.chance_damage[best]))
    return _offer("steam without touching", text, both)


def _steams(window: Window) -> bool:
    """Whether the iron steams at all: else every way to steam is barred."""
    steaming: list[Technique] = [c.technique for c in window.chances if c.technique.steam != "none"]
    return any(t not in window.barred for t in steaming)


def _weight(cloth: Cloth) -> dict[str, object] | None:
    if cloth.has(PartKind.PILE, PartKind.BEADS) or cloth.crushed:
        return None
    return _offer("weights", "leave the seam, laid as it shall lie, under a flat weight overnight")


def _stitch(cloth: Cloth) -> dict[str, object] | None:
    if cloth.pile_height_mm >= FUR_MM:
        return _offer("stitch down", "catch the allowances to the backing by hand")
    if cloth.holes_show:
        text = "catch the allowances down by hand, or topstitch them after a scrap: holes stay"
        return _offer("stitch down", text)
    return _offer("topstitch", "topstitch each allowance down, 2 to 3 mm from the seam")
