"""The press window as the sheets draw it: one technique's curve and the layers at one moment."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from samite.press.decide import technique_of
from samite.press.draws import Draws
from samite.press.joint import Joint
from samite.press.pressing import Placement
from samite.press.profile import press_profile
from samite.press.techniques import Technique
from samite.press.weakness import Weakness, weaknesses
from samite.press.window import Chances, Seam, press_chances, seam_of, usual_bench
from samite.services.card import seam_order
from samite.services.press_words import PLACE_WORDS
from samite.sheets.views import LayerStack, LayerView, PressCurve, Span, Zone
from samite.tables.fibres import fibre

if TYPE_CHECKING:
    from samite.cloth.model import Cloth
    from samite.press.pressing import Bench
    from samite.press.recipe import Recipe
    from samite.services.card import Card

DRAWS = 500
SEED = 1

SETTABLE = ("cellulose", "protein", "synthetic")
"""Groups of fibres that heat or water can set."""


def recipe_technique(recipe: Recipe) -> Technique | None:
    """Return the technique of a recipe's last pass.

    Parameters
    ----------
    recipe : Recipe
        The recipe.

    Returns
    -------
    Technique or None
        None if nothing is pressed.
    """
    if not recipe.passes:
        return None
    return technique_of(recipe.passes[-1], recipe)


def card_views(card: Card) -> tuple[PressCurve, LayerStack] | None:
    """Return what the two drawings of a card show.

    Parameters
    ----------
    card : Card
        The card; its own press window is used if it was computed, else the technique of its
        recipe is computed alone.

    Returns
    -------
    tuple of (PressCurve, LayerStack) or None
        None if nothing is pressed.
    """
    cloth, recipe = card.cloth, card.press.value
    technique = recipe_technique(recipe)
    if technique is None:
        return None
    draws = Draws(card.window.draws if card.window else DRAWS, SEED)
    passes = recipe_plan(recipe)
    chances = _computed(card, technique) or press_chances(_seam(card), passes, _bench(card), draws)
    curve = _curve(
        technique_entry(chances),
        technique.words,
        recipe.passes[-1].seconds,
        (_softens(cloth, technique), _tenderest(weaknesses(cloth))),
        chances.moved_most,
    )
    return curve, _stack(card, technique, curve, draws)


def view_curve(view: Mapping[str, Any]) -> PressCurve | None:
    """Return the curve of the last pass of the chosen plan of a press window.

    Parameters
    ----------
    view : Mapping
        The press window in the form ``samite.press.v1``.

    Returns
    -------
    PressCurve or None
        None if nothing is pressed.
    """
    named, passes, entry = view["best_technique"], view["best"]["passes"], view["plan"]
    if not named or not passes:
        return None
    count, stop = passes[-1]["seconds"]
    zones = (_view_softens(view, entry), _view_limit(view))
    return _curve(entry, named["words"], (count, stop), zones, tuple(view["moved_most"]))


def _view_softens(view: Mapping[str, Any], entry: Mapping[str, Any]) -> Zone | None:
    for item in view["glass_transition_c"]:
        name = _softens_name(item["fibre"], entry["steam"], entry["cloth"])
        return Zone(name, item["low"], item["value"], item["high"])
    return None


def _view_limit(view: Mapping[str, Any]) -> Zone | None:
    parts = view["weak_parts"]
    worst = min(parts, key=lambda part: float(part["limit_c"]["low"]), default=None)
    if worst is None:
        return None
    limit = worst["limit_c"]
    name = _harm_name(worst["part"], worst["place"])
    return Zone(name, limit["low"], limit["value"], limit["high"])


def recipe_plan(recipe: Recipe) -> tuple[Placement, ...]:
    """Return a recipe as placements, each at the middle of its seconds.

    Parameters
    ----------
    recipe : Recipe
        The recipe.

    Returns
    -------
    tuple of Placement
        One a pass.
    """
    return tuple(
        Placement(technique_of(step, recipe), sum(step.seconds) / 2.0, step.motion == "stroke")
        for step in recipe.passes
    )


def _seam(card: Card) -> Seam:
    return seam_of(card.cloth, seam_order(card.sewing))


def _bench(card: Card) -> Bench:
    support = card.press.value.support
    return usual_bench(support if support != "none" else "board", card.iron)


def _computed(card: Card, technique: Technique) -> Chances | None:
    """Return the chances of a technique from the card's own window."""
    if card.window and card.window.best and card.window.best.technique == technique:
        return card.window.best
    for chances in card.window.chances if card.window else ():
        if chances.technique == technique:
            return chances
    return None


def technique_entry(chances: Chances) -> dict[str, Any]:
    """Return one technique in the form of an entry of ``samite.press.v1``.

    Parameters
    ----------
    chances : Chances
        What was computed.

    Returns
    -------
    dict of str to object
        Unrounded, with what moved the answer most.
    """
    technique = chances.technique
    return {
        "iron": technique.iron.value,
        "steam": technique.steam,
        "cloth": technique.press_cloth,
        "side": technique.side,
        "seconds": list(chances.seconds),
        "chance_set": chances.chance_set.tolist(),
        "chance_damage": chances.chance_damage.tolist(),
        "window_s": chances.window_s,
        "core_c": _columns(chances.core_c.tolist()),
        "face_c": _columns(chances.face_c.tolist()),
        "moved_most": list(chances.moved_most),
    }


def _spoken(doubt: str) -> str:
    """Return a doubt as one says it: ``"limit of the base: wool"`` is that of the wool."""
    return doubt.replace("base: ", "").replace(": ", ", ").replace("-", " ")


def _columns(rows: list[list[float]]) -> dict[str, list[float]]:
    names = ("p05", "p50", "p95")
    return {name: [row[index] for row in rows] for index, name in enumerate(names)}


def _spans(columns: Mapping[str, list[float]]) -> tuple[Span, ...]:
    return tuple(zip(columns["p05"], columns["p50"], columns["p95"], strict=True))


def _curve(
    entry: Mapping[str, Any],
    words: str,
    seconds: tuple[float, float],
    zones: tuple[Zone | None, Zone | None],
    moved: tuple[str, ...],
) -> PressCurve:
    return PressCurve(
        technique=words,
        seconds=tuple(entry["seconds"]),
        core_c=_spans(entry["core_c"]),
        face_c=_spans(entry["face_c"]),
        chance_set=tuple(entry["chance_set"]),
        chance_damage=tuple(entry["chance_damage"]),
        count_s=seconds[0],
        stop_s=seconds[1],
        safe=entry["window_s"] is not None,
        softens=zones[0],
        limit=zones[1],
        moved_most=tuple(_spoken(name) for name in moved),
    )


def _softens(cloth: Cloth, technique: Technique) -> Zone | None:
    """Return where the main fibre softens when dry."""
    for item in cloth.base.fibres:
        if fibre(item.fibre).group in SETTABLE:
            found = fibre(item.fibre).quantity("glass_transition_dry_c")
            name = _softens_name(item.fibre, technique.steam, technique.press_cloth)
            return Zone(name, found.low, found.value, found.high)
    return None


def _softens_name(fibre_name: str, steam: str, press_cloth: str) -> str:
    dry = "dry" if steam == "none" and press_cloth != "damp" else "dry (water lowers it)"
    return f"{fibre_name.replace('-', ' ')} softens: {dry}"


def _tenderest(parts: tuple[Weakness, ...]) -> Zone | None:
    worst = min(parts, key=lambda part: part.limit_c.low, default=None)
    if worst is None:
        return None
    limit = worst.limit_c
    return Zone(_harm_name(worst.name, worst.place), limit.low, limit.value, limit.high)


def _harm_name(name: str, place: str) -> str:
    part, material = part_words(name)
    where = PLACE_WORDS.get(place, place)
    return f"{part} harmed: " + (f"{material}, {where}" if material else where)


def part_words(name: str) -> tuple[str, str]:
    """Return the name of a part as one says it, and its material.

    Parameters
    ----------
    name : str
        Part and material as the press model names them, ``"adhesive: adhesive-hotmelt"``.

    Returns
    -------
    tuple of (str, str)
        ``("glue", "hotmelt")``; the ground goes by its material alone.
    """
    part, _, material = name.partition(": ")
    words = material.removeprefix(f"{part}-").replace("-", " ")
    spoken = {"adhesive": "glue", "base": "ground"}.get(part, part)
    return (words, "") if spoken == "ground" else (spoken, words)


def _stack(card: Card, technique: Technique, curve: PressCurve, draws: Draws) -> LayerStack:
    cloth, recipe = card.cloth, card.press.value
    index = min(range(len(curve.seconds)), key=lambda i: abs(curve.seconds[i] - curve.count_s))
    face, moment = curve.face_c[index], curve.seconds[index]
    if technique.hovers:
        limit, kind = _tenderest(weaknesses(cloth)), "pile" if cloth.pile_height_mm else "ground"
        ply = LayerView("cloth", kind, cloth.thickness_mm.value, face, limit)
        steam = LayerView("steam", "steam", 0.0, None)
        support = LayerView(recipe.support.replace("-", " "), "support", 0.0, None)
        return LayerStack(technique.words, moment, (steam, ply, support))
    profile = press_profile(_seam(card), recipe_plan(recipe), _bench(card), draws, moment)
    joint, weak = profile.joint, weaknesses(cloth)
    layers = [LayerView("sole of the iron", "iron", 0.0, profile.sole_c)]
    for number, layer in enumerate(joint.layers):
        name, material = _layer_name(joint, number, technique, recipe)
        places = ("ply", "garment") if name.startswith("garment") else ("ply",)
        inner = [p for p in weak if p.place in places and p.name.startswith(f"{layer.name}:")]
        limit = _tenderest(tuple(inner)) if number in joint.plies else None
        span = profile.hottest_c[number]
        water = profile.water_gsm[number]
        layers.append(LayerView(name, material, layer.thickness_mm.value, span, limit, water))
    on_face = _tenderest(tuple(part for part in weak if part.place == "face"))
    if on_face:
        place = joint.face_layer + (2 if joint.face_depth else 1)
        layers.insert(place, LayerView("on the face", "face", 0.0, face, on_face))
    return LayerStack(technique.words, profile.moment_s, tuple(layers))


def _layer_name(joint: Joint, number: int, technique: Technique, recipe: Recipe) -> tuple[str, str]:
    """Return what a layer is called and how it is hatched."""
    kind = joint.layers[number].name
    if kind == "press cloth":
        return f"{technique.press_cloth} press cloth", "cloth"
    if kind == "support":
        return recipe.support.replace("-", " "), "support"
    upper = number <= joint.core
    ply = "allowance" if upper == (technique.side == "wrong") else "garment"
    if len(joint.plies) == 2:
        return ply, "ground"
    return f"{ply}: {'pile' if kind == 'pile' else 'ground'}", (
        "pile" if kind == "pile" else "ground"
    )
