"""How to press a joint of unlike cloths: what all of them bear, and where they contradict."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.joint_stack import JointStack, apart
from samite.garment.use import Use
from samite.kernel.reasons import Advice, Reason
from samite.press.dials import Dial
from samite.press.iron_fit import fit_to_iron
from samite.press.recipe import Pass, Recipe, choose_recipe
from samite.seam import traits
from samite.seam.settle import Conflict
from samite.tables.irons import Iron, household_iron

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from samite.press.decide import Window
    from samite.press.pressing import Bench
    from samite.press.window import Chances, Seam

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
    window : Window or None
        The press window of the joint; None if none was computed.
    """

    recipe: Advice[Recipe]
    conflicts: tuple[Conflict, ...]
    window: Window | None = None

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


def press_joint(
    stacks: tuple[JointStack, ...], use: Use, *, window: bool = False, iron: Iron | None = None
) -> JointPress:
    """Choose how to press a joint, and compute the chances if they are wanted.

    Parameters
    ----------
    stacks : tuple of JointStack
        The plies that the iron meets.
    use : Use
        What the seam has to bear.
    window : bool
        Compute the press window too, which takes longer.
    iron : Iron or None
        The iron at hand; an unmeasured household iron if None.

    Returns
    -------
    JointPress
        The recipe that all cloths bear, and the conflicts between them.

    Notes
    -----
    Each stack is pressed as it lies, its unlike plies in their order. Pressed open, a joint of
    two cloths is two stacks: they are computed each under the joint's recipe and joined technique
    by technique, one pass only, no hold.
    """
    iron = iron or household_iron()
    cloths = apart(cloth for stack in stacks for cloth in stack.cloths)
    own = tuple(fit_to_iron(choose_recipe(cloth, use), iron) for cloth in cloths)
    shared = own[0] if len(cloths) == 1 else share_recipe(cloths, own)
    conflicts = press_conflicts(cloths, own)
    if not (window and shared.value.passes):
        return JointPress(shared, conflicts)
    from samite.press.decide import window_recipe

    windows = tuple(stack_window(stack, shared.value, iron) for stack in stacks)
    joined = windows[0] if len(windows) == 1 else join_windows(windows)
    if len(windows) > 1 and joined.best:
        joined = _told_on_others(joined, windows, shared.value, _bench(shared.value, iron))
    tender = next((cloth for cloth in cloths if cloth.has(PartKind.DOTS)), cloths[0])
    timed = window_recipe(tender, shared.value, joined)
    reason = Reason(timed.reason.claim, (*timed.reason.because, shared.reason))
    return JointPress(Advice(timed.value, reason), conflicts, joined)


def stack_window(stack: JointStack, recipe: Recipe, iron: Iron) -> Window:
    """Compute the press window of one stack.

    Parameters
    ----------
    stack : JointStack
        The plies that the iron meets.
    recipe : Recipe
        What all cloths of the joint bear.
    iron : Iron
        The iron at hand.

    Returns
    -------
    Window
        Chances of the techniques that the recipe allows, and the best.
    """
    from samite.press.decide import press_window
    from samite.services.kept_window import FINALISTS_ON_CARD

    return press_window(
        stack_seam(stack),
        recipe,
        _bench(recipe, iron),
        everything=False,
        finalists=FINALISTS_ON_CARD,
    )


def _bench(recipe: Recipe, iron: Iron) -> Bench:
    from samite.press.window import usual_bench

    return usual_bench(recipe.support if recipe.support != "none" else "board", iron)


OWNERS = ("cloth", "other cloth", "third cloth")
"""How the doubts of the cloths are named, the garment's ply first."""


def stack_seam(stack: JointStack) -> Seam:
    """Return a stack as the press sees it.

    Parameters
    ----------
    stack : JointStack
        The plies that the iron meets.

    Returns
    -------
    Seam
        Its plies and tender parts; the garment's cloth is the one that has to be set.

    Notes
    -----
    A stack without an allowance, edge to edge with the next, is taken as a plain seam pressed open,
    with an allowance that is not there: errs to longer times. A third cloth behind the garment's
    ply is heated and may be harmed as any other; the fold that is set lies above it. Of the other cloths every part
    counts as if it lay at the garment's place, but their pile: that stands beside the stack, and
    only the joint's recipe guards it.
    """
    from samite.press.joint import Ply
    from samite.press.weakness import weaknesses
    from samite.press.window import Seam, seam_of

    garment = stack.layers[-1].cloth
    if not any(layer.role == "allowance" for layer in stack.layers):
        return seam_of(garment)
    others = tuple(cloth for cloth in stack.cloths if cloth is not garment)
    owners = dict(zip(map(id, (garment, *others)), OWNERS, strict=False))
    last = len(stack.layers) - 1
    plies = tuple(
        Ply(
            layer.cloth,
            owners[id(layer.cloth)],
            layer.face == "up",
            backing=layer.role == "garment" and index < last,
        )
        for index, layer in enumerate(stack.layers)
    )
    parts = [part for cloth in others for part in weaknesses(cloth) if part.place != "pile"]
    return Seam(garment, plies, (*weaknesses(garment), *parts))


def join_windows(windows: tuple[Window, ...]) -> Window:
    """Return the chances of a joint from those of its stacks, technique by technique.

    Parameters
    ----------
    windows : tuple of Window
        The window of each stack under the joint's recipe.

    Returns
    -------
    Window
        Only the techniques that all of them allow.

    Notes
    -----
    Chances of set are joined by their lower bound and those of damage by their upper one, whatever
    the doubts share: errs to the careful side.
    """
    from samite.press.decide import Window

    by_technique = [{one.technique: one for one in window.chances} for window in windows]
    barred = {t: why for window in windows for t, why in window.barred.items()}
    shared = [t for t in by_technique[0] if all(t in table for table in by_technique)]
    joined = [_joined(tuple(table[t] for table in by_technique)) for t in shared if t not in barred]
    best = min(joined, key=_careful, default=None)
    first = windows[0]
    return Window(tuple(joined), barred, best, (), first.draws, first.seed, first.seam)


def _told_on_others(
    joined: Window, windows: tuple[Window, ...], recipe: Recipe, bench: Bench
) -> Window:
    """Tell the best of a joint on draws that did not choose it."""
    from samite.press.draws import Draws
    from samite.press.pressing import Placement
    from samite.press.told import TOLD_AFTER, told_apart
    from samite.press.window import press_chances

    chooser = joined.best
    if chooser is None:
        return joined
    stroked = recipe.passes[-1].motion == "stroke"
    plan = (Placement(chooser.technique, 0.0, stroked=stroked),)
    draws = Draws(joined.draws, joined.seed + TOLD_AFTER)
    each = tuple(press_chances(one.seam, plan, bench, draws) for one in windows)
    chooser, told = told_apart(chooser, _joined(each))
    return replace(joined, best=told, chosen_by=chooser)


def _careful(one: Chances) -> tuple[bool, float, int]:
    return (one.window_s is None, -float(one.chance_good.max()), one.technique.iron.dots)


def _joined(many: tuple[Chances, ...]) -> Chances:
    import numpy as np

    first = many[0]
    others = float(len(many) - 1)

    def all_of(name: str) -> NDArray[np.float64]:
        total = np.sum([getattr(one, name) for one in many], axis=0)
        return np.asarray(np.maximum(total - others, 0.0), dtype=np.float64)

    def any_of(name: str) -> NDArray[np.float64]:
        total = np.sum([getattr(one, name) for one in many], axis=0)
        return np.asarray(np.minimum(total, 1.0), dtype=np.float64)

    return replace(
        first,
        chance_set=all_of("chance_set"),
        chance_damage=any_of("chance_damage"),
        damage_bound=any_of("damage_bound"),
        chance_good=all_of("chance_good"),
        moved_most=tuple(dict.fromkeys(doubt for one in many for doubt in one.moved_most))[:2],
        agreed=None,
    )


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
    begin, stop = (min(recipe.passes[-1].seconds[end] for recipe in recipes) for end in (0, 1))
    step = Pass("wrong", True, dial, steam, (begin, stop), "lift")
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
    return Advice(recipe, Reason(f"what all of them bear: {dial.words}, steam {steam}", leaves))


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
        f"press the seams of what else is joined before the {names} is; then finger press "
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
    claim = f"{names} bears no iron" if bared else "one of them bears no contact"
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


def joint_press_words(recipe: Recipe) -> str:
    """Return a recipe on one line.

    Parameters
    ----------
    recipe : Recipe
        The recipe.

    Returns
    -------
    str
        Dial, steam, cloth, seconds and chances; or what to do instead.
    """
    if not recipe.passes:
        return f"no iron: {recipe.instead}"
    parts = []
    for step in recipe.passes:
        if step.steam == "hover":
            parts.append("steam held off, not touching")
            continue
        through = f"through {recipe.cloth_kind}" if step.cloth else "no cloth"
        parts.append(
            f"{step.side} side, {step.iron.words}, {through}, steam {step.steam}, "
            f"{step.seconds[0]:g} to {step.seconds[1]:g} s"
        )
    chance = ""
    if recipe.chance_set is not None and recipe.chance_damage is not None:
        told = (
            f"set {100 * recipe.chance_set:.0f} %" if recipe.chance_set >= 0.05 else "hardly sets"
        )
        chance = f"; {told}, harm {100 * recipe.chance_damage:.1f} %"
    return "; then ".join(parts) + chance + (f"; {recipe.instead}" if recipe.instead else "")
