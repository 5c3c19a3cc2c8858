"""How to press a joint of unlike cloths: what all of them bear, and where they contradict."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from samite.cloth.model import Cloth
from samite.garment.joint_stack import JointStack
from samite.garment.use import Use
from samite.kernel.reasons import Advice, Reason
from samite.press.dials import Dial
from samite.press.recipe import Pass, Recipe, choose_recipe
from samite.seam import traits
from samite.seam.settle import Conflict

if TYPE_CHECKING:
    from samite.press.decide import Window

STEAMS = ("none", "hover", "light", "full")
"""Steam from none to the strongest."""

SUPPORTS = ("board", "seam-roll", "ham", "towel", "needle-board")
"""What lies under, from the firmest to the softest."""


@dataclass(frozen=True, slots=True)
class JointPress:
    """How to press a joint.

    Parameters
    ----------
    recipe : Advice of Recipe
        What all the cloths bear.
    conflicts : tuple of Conflict
        Where they contradict each other.
    windows : tuple of Window
        The press window of each cloth at that recipe; empty if none was computed.
    """

    recipe: Advice[Recipe]
    conflicts: tuple[Conflict, ...]
    windows: tuple[Window, ...] = ()

    def as_dict(self) -> dict[str, Any]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            The card's ``press``, with ``never``.
        """
        return {
            **self.recipe.value.as_dict(),
            "never": list(self.recipe.value.never),
            "reason": self.recipe.reason.as_dict(),
        }


def press_joint(stacks: tuple[JointStack, ...], use: Use, *, window: bool = False) -> JointPress:
    """Choose how to press a joint, and compute the chances if they are wanted.

    Parameters
    ----------
    stacks : tuple of JointStack
        The plies that the iron meets.
    use : Use
        What the seam has to bear.
    window : bool
        Compute the press window too, which takes longer.

    Returns
    -------
    JointPress
        The recipe that all cloths bear, and the conflicts between them.

    Notes
    -----
    The window is computed for each cloth by itself under the joint's recipe; the chance of a set
    seam is that of the worse, damage to either counts. Errs high in heat for the thin ply over a
    thick one, low for the other way round.
    """
    cloths = _apart(cloth for stack in stacks for cloth in stack.cloths)
    own = tuple(choose_recipe(cloth, use) for cloth in cloths)
    shared = own[0] if len(cloths) == 1 else share_recipe(cloths, own)
    conflicts = press_conflicts(cloths, own)
    if not (window and shared.value.passes):
        return JointPress(shared, conflicts)
    windows = tuple(_window(cloth, shared.value) for cloth in cloths)
    return JointPress(_with_chances(shared, cloths, windows), conflicts, windows)


def _apart(cloths: Any) -> tuple[Cloth, ...]:
    found: list[Cloth] = []
    for cloth in cloths:
        if not any(cloth is known for known in found):
            found.append(cloth)
    return tuple(found)


def _window(cloth: Cloth, recipe: Recipe) -> Window:
    from samite.services.card import compute_window

    return compute_window(cloth, recipe)


def _with_chances(
    shared: Advice[Recipe], cloths: tuple[Cloth, ...], windows: tuple[Window, ...]
) -> Advice[Recipe]:
    from samite.press.decide import window_recipe

    timed = [
        window_recipe(cloth, shared.value, window)
        for cloth, window in zip(cloths, windows, strict=True)
    ]
    worst = min(timed, key=lambda one: one.value.chance_set or 0.0)
    kept = 1.0
    for one in timed:
        kept *= 1.0 - (one.value.chance_damage or 0.0)
    status = max((one.value.status for one in timed), key=STATUSES.index)
    begin = max(step.seconds[0] for one in timed for step in one.value.passes[:1])
    stop = min(step.seconds[1] for one in timed for step in one.value.passes[:1])
    passes = tuple(
        replace(step, seconds=(min(begin, stop), stop)) if step.steam != "hover" else step
        for step in shared.value.passes
    )
    recipe = replace(
        shared.value,
        passes=passes,
        status=status,
        chance_set=worst.value.chance_set,
        chance_damage=1.0 - kept,
    )
    leaves = (shared.reason, *(one.reason for one in timed))
    claim = "the longest count that sets, stopped before the more tender cloth is hurt"
    return Advice(recipe, Reason(claim, leaves))


STATUSES = ("safe", "compromise", "do-not-press")
"""Status from the best to the worst."""


def share_recipe(cloths: tuple[Cloth, ...], own: tuple[Advice[Recipe], ...]) -> Advice[Recipe]:
    """Return the recipe that all cloths bear.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths, unlike.
    own : tuple of Advice of Recipe
        What each bears by itself.

    Returns
    -------
    Advice of Recipe
        The lowest dial, the weakest steam, a press cloth if one wants it, the softest support.
    """
    recipes = [one.value for one in own]
    leaves = tuple(one.reason for one in own)
    never = tuple(dict.fromkeys(rule for recipe in recipes for rule in recipe.never))
    bared = [c.structure_name for c, r in zip(cloths, recipes, strict=True) if not r.passes]
    supports = [r.support for r in recipes if r.support in SUPPORTS]
    support = max(supports, key=SUPPORTS.index, default="none")
    tender = min(recipes, key=lambda recipe: recipe.hold_seconds)
    hover = any(recipe.steam == "hover" and recipe.iron is Dial.NONE for recipe in recipes)
    if bared or hover:
        return _without_contact(bared, recipes, support, tender, never, leaves)
    dial = min((recipe.iron for recipe in recipes), key=lambda one: one.dots)
    steam = min((_touching_steam(recipe) for recipe in recipes), key=STEAMS.index)
    begin = max(recipe.passes[-1].seconds[0] for recipe in recipes)
    stop = min(recipe.passes[-1].seconds[1] for recipe in recipes)
    step = Pass("wrong", True, dial, steam, (min(begin, stop), stop), "lift")
    kind = next((recipe.cloth_kind for recipe in recipes if recipe.cloth_kind), "cotton lawn, dry")
    recipe = Recipe(
        status=max((one.status for one in recipes), key=STATUSES.index),
        passes=(step,),
        cloth_kind=kind,
        support=support,
        hold_tool=tender.hold_tool,
        hold_seconds=max(one.hold_seconds for one in recipes),
        instead="",
        never=never,
    )
    return Advice(recipe, Reason(f"what both bear: {dial.words}, steam {steam}", leaves))


def _touching_steam(recipe: Recipe) -> str:
    return "none" if recipe.steam == "hover" else recipe.steam


def _without_contact(
    bared: list[str],
    recipes: list[Recipe],
    support: str,
    tender: Recipe,
    never: tuple[str, ...],
    leaves: tuple[Reason, ...],
) -> Advice[Recipe]:
    steams = all(recipe.steam != "none" or recipe.iron is not Dial.NONE for recipe in recipes)
    wet = steams and not bared and all(recipe.steam != "none" for recipe in recipes)
    step = Pass("wrong", False, Dial.NONE, "hover", (3.0, 8.0), "lift")
    names = " and ".join(bared)
    instead = (
        f"press the seams of the other cloth before the {names} is joined to it; then finger press "
        "or roll the joint, topstitch or catch the allowances down by hand"
        if bared
        else "finger press the allowances while they are warm; catch them down by hand"
    )
    recipe = Recipe(
        status="do-not-press" if not wet else "compromise",
        passes=(step,) if wet else (),
        cloth_kind="",
        support=support if wet else "none",
        hold_tool="hand",
        hold_seconds=min(tender.hold_seconds, 10.0),
        instead=instead,
        never=never,
    )
    claim = f"{names} bears no iron" if bared else "one of the two bears no contact"
    return Advice(recipe, Reason(claim, leaves))


def press_conflicts(
    cloths: tuple[Cloth, ...], own: tuple[Advice[Recipe], ...]
) -> tuple[Conflict, ...]:
    """Name where the cloths want to be pressed differently.

    Parameters
    ----------
    cloths : tuple of Cloth
        The cloths, unlike.
    own : tuple of Advice of Recipe
        What each bears by itself.

    Returns
    -------
    tuple of Conflict
        About the dial and about steam.
    """
    names = [cloth.structure_name for cloth in cloths]
    recipes = [one.value for one in own]
    found = []
    dials = [recipe.iron for recipe in recipes]
    if len(set(dials)) > 1:
        low = names[min(range(len(dials)), key=lambda i: dials[i].dots)]
        high = names[max(range(len(dials)), key=lambda i: dials[i].dots)]
        settled = (
            f"the dial of the {low}; press the {high} by itself before they are joined, and help the "
            "joint with time, a press cloth and a clapper instead of heat"
        )
        said = tuple((name, f"iron {dial.words}") for name, dial in zip(names, dials, strict=True))
        because = traits.practice(f"what scorches later waits for what melts sooner: the {low}")
        found.append(Conflict("press heat", said, settled, because))
    steams = [recipe.steam for recipe in recipes]
    if "none" in steams and any(steam != "none" for steam in steams):
        dry = names[steams.index("none")]
        settled = (
            f"no steam on the joint: the {dry} is hurt by it. Set the other by steam before they are "
            "joined; a barely damp cloth on its side alone, tried on a scrap"
        )
        said = tuple((name, f"steam {steam}") for name, steam in zip(names, steams, strict=True))
        found.append(Conflict("press steam", said, settled, traits.practice("water marks stay")))
    return tuple(found)
