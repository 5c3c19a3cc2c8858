"""A recipe fitted to the iron at hand, and what that iron cannot do."""

from __future__ import annotations

from dataclasses import replace

from samite.kernel.evidence import Evidence, Grade
from samite.kernel.reasons import Advice, Reason
from samite.press.dials import FAHRENHEIT_ROUNDING_C, Dial
from samite.press.recipe import Pass, Recipe
from samite.press.techniques import Technique
from samite.tables.irons import Iron

OWN = Evidence("own-iron", Grade.MEASURED_HERE)
TOUCHING = (Dial.HIGH, Dial.MEDIUM, Dial.LOW)

WITHOUT_IT = "finger press, weigh down, or topstitch the allowance"
"""What is left where the iron at hand may not go."""

Fitted = tuple[Recipe, tuple[str, ...]]


def fit_to_iron(limits: Advice[Recipe], iron: Iron) -> Advice[Recipe]:
    """Fit a recipe to the iron at hand.

    Parameters
    ----------
    limits : Advice of Recipe
        The recipe from the limits of the cloth's parts.
    iron : Iron
        The iron; one that nobody has described changes nothing.

    Returns
    -------
    Advice of Recipe
        Never hotter, never with more steam than before; every change is a reason.

    Notes
    -----
    A position of the dial whose measured sole passes the symbol's limit is not used, whatever
    stands on the dial; one that stays far below is not raised. So no iron lifts a ceiling.
    """
    recipe = limits.value
    said: list[str] = []
    for fit in (_fit_kind, _fit_dials, _fit_steam, _fit_tools):
        recipe, claims = fit(recipe, iron)
        said += claims
    if recipe == limits.value:
        return limits
    because = (limits.reason, *(Reason(claim, evidence=OWN) for claim in said))
    claim = f"{recipe.iron.words}, steam {recipe.steam}: fitted to the {iron.name}"
    return Advice(recipe, Reason(claim, because))


def iron_bar(iron: Iron, technique: Technique) -> str:
    """Say why an iron cannot do a technique, or nothing.

    Parameters
    ----------
    iron : Iron
        The iron.
    technique : Technique
        The technique.

    Returns
    -------
    str
        The reason; empty if it can.
    """
    if technique.hovers:
        return "" if iron.steams_from else f"the {iron.name} never steams"
    if iron.kind == "hand steamer":
        return "a hand steamer never touches"
    if technique.steam == "none":
        return ""
    if iron.steams_from is None:
        return f"the {iron.name} never steams"
    if technique.iron is Dial.LOW:
        if iron.steams_at(Dial.LOW.value):
            return "one dot goes without steam, even on an iron that steams there"
        return "at one dot most irons spit instead of steaming"
    if not iron.steams_at(technique.iron.value):
        return f"the {iron.name} spits there: it steams from {Dial(iron.steams_from).words}"
    return ""


def _fit_kind(recipe: Recipe, iron: Iron) -> Fitted:
    """Fit to what the iron is: a steamer never touches, a press never slides nor hovers."""
    hovers = any(step.steam == "hover" for step in recipe.passes)
    if not recipe.passes or iron.kind == "iron":
        return recipe, ()
    if iron.kind == "hand steamer":
        if hovers:
            return recipe, ()
        if recipe.steam == "none":
            return _not_with_it(recipe, "a hand steamer gives only steam, and steam is barred here")
        return _hovering(recipe), ("a hand steamer never touches: steam from the back, no contact",)
    if hovers:
        return _not_with_it(recipe, "a heat press only touches, and contact would flatten it")
    passes = tuple(replace(step, motion="lift") for step in recipe.passes)
    slid = any(step.motion == "stroke" for step in recipe.passes)
    claims = ("a heat press is lowered and lifted, never slid",) if slid else ()
    return replace(recipe, passes=passes), claims


def _hovering(recipe: Recipe) -> Recipe:
    step = Pass("wrong", False, Dial.NONE, "hover", (3.0, 8.0), "lift")
    instead = "finger press the allowances open while they are warm"
    return replace(recipe, passes=(step,), cloth_kind="", instead=instead)


def _not_with_it(recipe: Recipe, why: str, first: str = "") -> Fitted:
    instead = f"{first}; or {WITHOUT_IT}" if first else WITHOUT_IT
    without = replace(recipe, status="do-not-press", passes=(), cloth_kind="", instead=instead)
    return without, (why,)


def _fit_dials(recipe: Recipe, iron: Iron) -> Fitted:
    """Turn the dial down where its measured sole passes the limit of the symbol."""
    claims: list[str] = []
    passes: list[Pass] = []
    for step in recipe.passes:
        if step.steam == "hover" or not _too_hot(iron, step.iron, step.iron):
            passes.append(step)
            continue
        sole = iron.dial_c(step.iron.value)
        why = (
            f"its {step.iron.words.partition(', ')[2]} stands at {sole.value:.0f} C measured, past "
            f"the {step.iron.sole_max_c:.0f} C of the symbol"
        )
        cooler = [dial for dial in TOUCHING if dial.dots < step.iron.dots]
        usable = [dial for dial in cooler if not _too_hot(iron, dial, step.iron)]
        if not usable:
            first = (
                f"turn the dial down until a probe shows {step.iron.sole_max_c:.0f} C or less, "
                "and describe that position"
            )
            return _not_with_it(recipe, why, first)
        claims.append(f"{why}: one step down")
        passes.append(replace(step, iron=usable[0]))
    return replace(recipe, passes=tuple(passes)), tuple(claims)


def _too_hot(iron: Iron, dial: Dial, allowed: Dial) -> bool:
    """Whether a position, as measured, passes the limit of a symbol."""
    setting = iron.setting(dial.value)
    return setting.measured and setting.sole_c.value > allowed.sole_max_c + FAHRENHEIT_ROUNDING_C


def _fit_steam(recipe: Recipe, iron: Iron) -> Fitted:
    """Leave the steam out where the iron spits or has none; say where it steams for hovering."""
    claims: list[str] = []
    passes: list[Pass] = []
    for step in recipe.passes:
        if step.steam == "hover":
            if iron.steams_from is None:
                return _not_with_it(recipe, f"the {iron.name} never steams, and contact is barred")
            passes.append(replace(step, dial_for_steam=hover_dial(iron)))
            continue
        technique = Technique(step.iron, step.steam, "none", step.side)
        bar = iron_bar(iron, technique)
        if bar:
            claims.append(f"no steam: {bar}")
        passes.append(replace(step, steam="none") if bar else step)
    return replace(recipe, passes=tuple(passes)), tuple(dict.fromkeys(claims))


def hover_dial(iron: Iron) -> str:
    """Say where the dial stands when the iron only steams.

    Parameters
    ----------
    iron : Iron
        The iron; it steams somewhere.

    Returns
    -------
    str
        Positions, and how far off the sole stays.
    """
    if iron.kind == "hand steamer":
        return "its one setting; the head stays 2 cm off the cloth"
    steaming = [item.key for item in iron.settings if iron.steams_at(item.key)]
    where = " or ".join(steaming)
    return f"{where}: hot enough to steam without spitting; the sole stays 2 cm off the cloth"


def _fit_tools(recipe: Recipe, iron: Iron) -> Fitted:
    """Take what is at hand: a weight for a clapper, the iron's own board for the usual one."""
    claims: list[str] = []
    if recipe.hold_tool == "clapper" and not iron.has_clapper:
        recipe = replace(recipe, hold_tool="weight")
        claims.append("no clapper at hand: held under a weight")
    if iron.board and recipe.support == "board" and iron.board.key != "board":
        recipe = replace(recipe, support=iron.board.key)
        claims.append(f"it lies on the {iron.board.name}: there is no board")
    return recipe, tuple(claims)
