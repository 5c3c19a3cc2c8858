"""Choose the technique from the window, within what the cloth's limits allow."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.reasons import Advice, Reason
from samite.press.draws import Draws
from samite.press.hold import Held, hold_seam
from samite.press.iron_fit import iron_bar
from samite.press.joint import stretched
from samite.press.placements import PLACEMENTS
from samite.press.pressing import STEAM_SECONDS, Bench, Placement
from samite.press.recipe import Pass, Recipe
from samite.press.techniques import HOVER, STEAMS, Technique, all_techniques
from samite.press.told import TOLD_AFTER, told_apart
from samite.press.window import DAMAGE_ALLOWED, Chances, Seam, press_chances
from samite.tables.press_tools import press_tool

SCREEN_DRAWS = 80
FULL_DRAWS = 400
FINALISTS = 4
"""Plans that are computed again with all draws, unless asked otherwise."""

CLEARLY_BETTER = 0.05
"""By how much a plan with another number of passes must beat practice's, for each pass [-]."""

WORTH_TRYING = 0.5
"""Below this chance of set and unharmed the answer is not to press."""

TOO_HARMFUL = 0.5
"""Chance of damage from which a press that may well not set is not worth trying: harm is then
likelier than not [-]."""

CLOSE_ENOUGH = 0.95
"""Share of the best chance that a shorter or longer time must keep [-]."""

HARM_MAY_GROW = 0.03
"""How much the chance of damage may grow from the seconds to count to those to stop by [-]."""

LONGEST_S = 15.0
"""Longer nobody holds an iron on one place, sixty times over [s] (guess)."""

LONGEST_ON_DOTS_S = 2.0
"""Practice is firm about a couple of seconds on glued dots [s]."""

DERIVED = Evidence("layer solver and draws, docs/models/press.md", Grade.DERIVED)
GUESS = Evidence("guess", Grade.GUESS)


DrawsOf = Callable[[int, int], Draws]
"""Gives so many draws for a seed: from the tables, or from what swatches taught."""


class Experience(Protocol):
    """What swatches forbid and allow, whatever the chances."""

    def bar(self, technique: Technique, otherwise: str) -> str:
        """Say why a technique is not to be used, or nothing.

        Parameters
        ----------
        technique : Technique
            The technique.
        otherwise : str
            Why the limits forbid it; empty if they do not.

        Returns
        -------
        str
            The reason; empty if it may be used.
        """

    def longest_s(self, technique: Technique) -> float:
        """Return how long a technique may be used on one place.

        Parameters
        ----------
        technique : Technique
            The technique.

        Returns
        -------
        float
            Seconds; infinite if no swatch says otherwise [s].
        """


@dataclass(frozen=True, slots=True, eq=False)
class Window:
    """All techniques on one seam, and the plan that is best of those that may be used.

    Parameters
    ----------
    chances : tuple of Chances
        One a technique, alone.
    barred : Mapping of Technique to str
        Why a technique is not to be used, whatever its chances.
    best : Chances or None
        The last pass of the best plan, all passes counted, on other draws than those that chose it;
        None if nothing may be used.
    before : tuple of Placement
        The passes before it, with their seconds.
    draws : int
        Draws behind the best.
    seed : int
        Seed of the draws.
    seam : Seam
        What was pressed.
    held : Held or None
        The hold after the best plan; None if nothing may be used or it only hovers.
    draws_of : callable
        Where the draws came from, from their count and seed.
    chosen_by : Chances or None
        The best on the draws that chose it: its seconds are counted. None if it is told on them.
    """

    chances: tuple[Chances, ...]
    barred: Mapping[Technique, str]
    best: Chances | None
    before: tuple[Placement, ...]
    draws: int
    seed: int
    seam: Seam
    held: Held | None = None
    draws_of: DrawsOf = Draws
    chosen_by: Chances | None = None


Plan = tuple[Placement, ...]


def press_window(
    seam: Seam,
    recipe: Recipe,
    bench: Bench,
    *,
    seed: int = 1,
    full: bool = False,
    everything: bool = True,
    finalists: int = FINALISTS,
    draws_of: DrawsOf = Draws,
    experience: Experience | None = None,
) -> Window:
    """Compute every technique and choose the best plan that may be used.

    Parameters
    ----------
    seam : Seam
        Plies and tender parts.
    recipe : Recipe
        The recipe from limits: it bars what the cloth's parts or its look forbid.
    bench : Bench
        Iron, press cloth and support.
    seed : int
        Seed of the draws.
    full : bool
        Compute every technique with all draws, not only the finalists.
    everything : bool
        Compute the barred techniques too, to show what they would do.
    finalists : int
        Plans that are computed again with all draws.
    draws_of : callable
        Gives so many draws for a seed; those of the tables, unless swatches were learnt from.
    experience : Experience or None
        What swatches forbid and allow, before and beside the chances.

    Returns
    -------
    Window
        Chances of all techniques, and the best plan with all draws.
    """
    techniques = all_techniques()
    barred = {t: why for t in techniques if (why := _why_not(t, recipe, bench, experience))}
    draws = draws_of(FULL_DRAWS if full else SCREEN_DRAWS, seed)
    open_ones = [t for t in techniques if t not in barred]
    motion = recipe.passes[-1].motion == "stroke" if recipe.passes else False
    singles: list[Plan] = [
        (Placement(t, 0.0, stroked=motion and t not in barred),)
        for t in (techniques if everything else open_ones)
    ]
    alone = _all_chances(seam, singles, bench, draws, experience)
    usable = {plan: chances for plan, chances in alone.items() if plan[-1].technique not in barred}
    found = usable | _all_chances(seam, plans(seam.cloth, recipe, usable), bench, draws, experience)
    leading = sorted(found, key=lambda plan: _order(plan, found[plan], recipe))[:finalists]
    refined = (
        _all_chances(seam, leading, bench, draws_of(FULL_DRAWS, seed), experience)
        if not full
        else found
    )
    best = min(leading, key=lambda plan: _order(plan, refined[plan], recipe), default=None)
    if best and refined[best].chance_good.max() < WORTH_TRYING:
        best = _practised(recipe, found, best)
        refined |= _all_chances(seam, [best], bench, draws_of(FULL_DRAWS, seed), experience)
    alone.update({plan: refined[plan] for plan in leading if len(plan) == 1})
    singly = tuple(alone.values())
    window = Window(singly, barred, None, (), FULL_DRAWS, seed, seam, draws_of=draws_of)
    return _told(window, best, refined[best], recipe, bench, experience) if best else window


def _told(
    found: Window,
    best: Plan,
    chooser: Chances,
    recipe: Recipe,
    bench: Bench,
    experience: Experience | None,
) -> Window:
    """Tell the best plan on draws that did not choose it, and follow its hold."""
    others = found.draws_of(FULL_DRAWS, found.seed + TOLD_AFTER)
    again = _all_chances(found.seam, [best], bench, others, experience)[best]
    chooser, told = told_apart(chooser, again)
    single = best[0].technique if len(best) == 1 else None
    return replace(
        found,
        chances=tuple(told if item.technique == single else item for item in found.chances),
        best=told,
        before=best[:-1],
        chosen_by=chooser,
        held=_held(
            found.seam, best, chooser, recipe, bench, found.draws_of(HOLD_DRAWS, found.seed)
        ),
    )


def _held(
    seam: Seam,
    best: Plan,
    chooser: Chances,
    recipe: Recipe,
    bench: Bench,
    draws: Draws,
) -> Held | None:
    """Follow the hold after the best plan, at the seconds to count."""
    last = best[-1]
    if last.technique.hovers:
        return None
    index, _, _ = told_seconds(seam.cloth, recipe, chooser)
    count = chooser.seconds[index]
    tool = press_tool(recipe.hold_tool) if recipe.hold_tool != "none" else None
    passes = (*best[:-1], replace(last, seconds=count))
    return hold_seam(seam, passes, bench, tool, draws)


HOLD_DRAWS = 80


def _practised(recipe: Recipe, found: Mapping[Plan, Chances], otherwise: Plan) -> Plan:
    """Return practice's own plan: under an even chance no other is worth its harm."""
    steps = recipe.passes
    own = tuple(
        Placement(technique_of(step, recipe), sum(step.seconds) / 2.0, step.motion == "stroke")
        for step in steps[:-1]
    )
    last = technique_of(steps[-1], recipe)
    return next(
        (plan for plan in found if plan[:-1] == own and plan[-1].technique == last), otherwise
    )


def plans(cloth: Cloth, recipe: Recipe, singles: Mapping[Plan, Chances]) -> list[Plan]:
    """Return plans of two and three passes that are worth computing.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    recipe : Recipe
        The recipe from limits; its own early passes are always tried.
    singles : Mapping of tuple of Placement to Chances
        What each technique that may be used does alone.

    Returns
    -------
    list of tuple of Placement
        Practice's own early passes before each of the best techniques; steam first, then the same
        without steam; both, three at most; for silk, which drops would mark, steam held off it before
        the dry iron. None changes the dial between passes, but practice's own: one iron cannot.
    """
    leading = sorted(singles, key=lambda plan: -singles[plan].chance_good.max())[:PLANNED]
    practised = tuple(
        Placement(technique_of(step, recipe), sum(step.seconds) / 2.0, step.motion == "stroke")
        for step in recipe.passes[:-1]
    )
    found: list[Plan] = []
    for plan in leading:
        last = plan[-1]
        if last.technique.hovers:
            continue
        if practised:
            found.append((*practised, last))
        if _softens_by_vapour(cloth):
            found.append((Placement(HOVER, HOVER_SECONDS), last))
        if last.technique.steam != "none":
            dry = replace(last, technique=replace(last.technique, steam="none"))
            steamed = replace(last, seconds=STEAM_SECONDS)
            found.append((steamed, dry))
            if practised:
                found.append((*practised, steamed, dry))
    return [plan for plan in dict.fromkeys(found) if len(plan) <= MOST_PASSES]


def _softens_by_vapour(cloth: Cloth) -> bool:
    """Whether it is silk that bears vapour though no drops: not sheer, nothing glued or metallic."""
    plain = all(part.kind in (PartKind.BASE, PartKind.PILE) for part in cloth.parts)
    tender = cloth.sheer or cloth.crushed or cloth.metallic_percent > 0.0
    return plain and not tender and cloth.share("silk") >= HALF_PERCENT


HALF_PERCENT = 50.0

HOVER_SECONDS = 5.0
"""How long the steam is held over the seam before the dry iron [s]."""

MOST_PASSES = 3
PLANNED = 2
"""Single techniques that are tried again with passes before them."""


def technique_of(step: Pass, recipe: Recipe) -> Technique:
    """Return the technique of a pass.

    Parameters
    ----------
    step : Pass
        The pass.
    recipe : Recipe
        The recipe that it belongs to: it says whether the press cloth is damp.

    Returns
    -------
    Technique
        Dial, steam, press cloth and side.
    """
    if step.steam == "hover":
        return HOVER
    through = ("damp" if "damp" in recipe.cloth_kind else "dry") if step.cloth else "none"
    return Technique(step.iron, step.steam, through, step.side)


def _all_chances(
    seam: Seam,
    wanted: Sequence[Plan],
    bench: Bench,
    draws: Draws,
    experience: Experience | None = None,
) -> dict[Plan, Chances]:
    """Compute plans two at a time: the compiled solver lets go of the interpreter."""
    with ThreadPoolExecutor(max_workers=2) as pool:
        found = list(pool.map(lambda plan: press_chances(seam, plan, bench, draws), wanted))
    if experience:
        found = [ended(item, experience.longest_s(item.technique)) for item in found]
    return dict(zip(wanted, found, strict=True))


def ended(chances: Chances, longest_s: float) -> Chances:
    """Return chances that count every second past the longest as damage.

    Parameters
    ----------
    chances : Chances
        One technique.
    longest_s : float
        Seconds that a swatch allows; infinite for no end [s].

    Returns
    -------
    Chances
        The same up to there.
    """
    past = np.array(chances.seconds) > longest_s
    if not past.any():
        return chances
    return replace(
        chances,
        chance_damage=np.where(past, 1.0, chances.chance_damage),
        damage_bound=np.where(past, 1.0, chances.damage_bound),
        chance_good=np.where(past, 0.0, chances.chance_good),
    )


def _why_not(
    technique: Technique, recipe: Recipe, bench: Bench, experience: Experience | None
) -> str:
    """Say why a technique is barred: by the iron, then by the limits, then by what was seen."""
    by_iron = iron_bar(bench.iron, technique)
    if by_iron:
        return by_iron
    by_limits = bar(recipe, technique)
    return experience.bar(technique, by_limits) if experience else by_limits


def _order(plan: Plan, chances: Chances, recipe: Recipe) -> tuple[object, ...]:
    """Safe before the rest; then clearly better; then as practice does; then short and gentle."""
    technique = chances.technique
    span = chances.window_s
    safe = span is not None and span[0] <= LONGEST_S
    good = float(chances.chance_good[: _allowed(chances, LONGEST_S)].max())
    told = 1.0 if safe else round(good, 2)
    more = abs(len(plan) - len(recipe.passes))
    merit = told - CLEARLY_BETTER * more
    shortest = span[0] if span and safe else 0.0
    early = sum(step.seconds for step in plan[:-1])
    gentle = (STEAMS.index(technique.steam) if not technique.hovers else 0, technique.iron.dots)
    return (not safe, -round(merit, 3), shortest + early, technique.press_cloth == "none", gentle)


def bar(recipe: Recipe, technique: Technique) -> str:
    """Say why a technique may not be used on a cloth, or nothing.

    Parameters
    ----------
    recipe : Recipe
        The recipe from limits.
    technique : Technique
        The technique.

    Returns
    -------
    str
        The reason; empty if it may be used.
    """
    if not recipe.passes:
        return "a part of it bears no iron"
    if technique.hovers:
        return "" if recipe.steam == "hover" else _hover_bar(recipe)
    if recipe.steam == "hover":
        return "contact would flatten it"
    main = recipe.passes[-1]
    if technique.iron.dots > main.iron.dots:
        return f"hotter than {main.iron.words} is past the ceiling of its parts"
    if STEAMS.index(technique.steam) > STEAMS.index(main.steam):
        return f"steam {technique.steam} is more than it bears"
    if technique.press_cloth == "none" and main.cloth:
        return "it needs a press cloth against shine and sticking"
    if technique.press_cloth == "damp" and main.steam == "none":
        return "it does not bear damp"
    if technique.side != main.side:
        return f"the last pass goes on the {main.side} side"
    return ""


def _hover_bar(recipe: Recipe) -> str:
    if recipe.steam == "none":
        return "it does not bear steam"
    return "the iron may touch it, which is surer" if recipe.passes[-1].iron.dots else ""


def window_recipe(cloth: Cloth, recipe: Recipe, window: Window) -> Advice[Recipe]:
    """Put the window's seconds, chances and choice into the recipe from limits.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    recipe : Recipe
        The recipe from limits.
    window : Window
        What was computed.

    Returns
    -------
    Advice of Recipe
        With status, seconds and chances.
    """
    if window.best is None:
        return Advice(recipe, Reason("no technique may be used", evidence=GUESS))
    best = window.best
    index, *seconds = told_seconds(cloth, recipe, window.chosen_by or best)
    damage = _damage_at(best, seconds[1])
    status = _status(best, index, damage)
    passes = _passes(recipe, window, best.technique, (seconds[0], seconds[1]))
    chosen = replace(
        recipe,
        status=status,
        passes=() if status == "do-not-press" else passes,
        instead=_instead(recipe, status, float(best.chance_good[index])),
        cloth_kind=_damp_kind(recipe, best.technique),
        hold_seconds=_hold_seconds(recipe, window.held),
        chance_set=float(best.chance_set[index]),
        chance_damage=damage,
    )
    return Advice(chosen, _window_reason(cloth, best, index, damage, (seconds[0], seconds[1])))


def _hold_seconds(recipe: Recipe, held: Held | None) -> float:
    """Never shorter than practice's: a hand cannot tell when the middle of the seam is cool."""
    return recipe.hold_seconds if held is None else max(recipe.hold_seconds, held.enough_s)


def _passes(
    recipe: Recipe, window: Window, last_one: Technique, seconds: tuple[float, float]
) -> tuple[Pass, ...]:
    """Write the plan as passes: practice's own early ones keep their spread of seconds."""
    last = recipe.passes[-1]
    if len(window.before) == len(recipe.passes) - 1 and window.before == tuple(
        Placement(technique_of(step, recipe), sum(step.seconds) / 2.0, step.motion == "stroke")
        for step in recipe.passes[:-1]
    ):
        early = recipe.passes[:-1]
    else:
        early = tuple(_pass_of(step.technique, (step.seconds,) * 2, last) for step in window.before)
    return (*early, _pass_of(last_one, seconds, last))


def _pass_of(technique: Technique, seconds: tuple[float, ...], like: Pass) -> Pass:
    return replace(
        like,
        side=technique.side,
        seconds=(seconds[0], seconds[1]),
        iron=technique.iron,
        steam=technique.steam,
        cloth=technique.press_cloth != "none",
    )


def _damage_at(chances: Chances, second_s: float) -> float:
    """Return the chance of damage at a time, or at the last one computed before it."""
    index = max(i for i, second in enumerate(chances.seconds) if second <= second_s)
    return float(chances.chance_damage[index])


def _status(best: Chances, index: int, damage: float) -> str:
    """Judge the best time: under an even chance it is not pressed if harm is likely."""
    in_window = best.window_s is not None and best.seconds[index] >= best.window_s[0]
    if in_window and damage <= DAMAGE_ALLOWED:
        return "safe"
    poor = best.chance_good[index] < WORTH_TRYING
    harmful = damage > TOO_HARMFUL
    return "do-not-press" if poor and harmful else "compromise"


def told_seconds(cloth: Cloth, recipe: Recipe, chances: Chances) -> tuple[int, float, float]:
    """Return the time whose chances are told, the seconds to count and those to stop by.

    Parameters
    ----------
    cloth : Cloth
        The cloth: glued dots bear a couple of seconds.
    recipe : Recipe
        The recipe from limits: its seconds stand where the chance is under an even one.
    chances : Chances
        The last pass, on the draws that chose it.

    Returns
    -------
    int
        Index of the time.
    float
        Seconds to count [s].
    float
        Seconds by which to stop [s].
    """
    longest = LONGEST_ON_DOTS_S if cloth.has(PartKind.DOTS) else LONGEST_S
    index, count, stop = count_and_stop(chances, longest)
    if chances.chance_good[index] < WORTH_TRYING:
        count, stop = recipe.passes[-1].seconds
        index = max(i for i, second in enumerate(chances.seconds) if second <= stop)
    return index, count, stop


def count_and_stop(chances: Chances, longest_s: float) -> tuple[int, float, float]:
    """Return the time that counts, the seconds to count and the seconds by which to stop.

    Parameters
    ----------
    chances : Chances
        One technique.
    longest_s : float
        Longest time allowed [s].

    Returns
    -------
    int
        Index of the time whose chances are told.
    float
        Seconds to count [s].
    float
        Seconds by which to stop [s]: the end of the window; without one, the last at which
        the chance of set and unharmed is within a twentieth of the best and that of damage has
        hardly grown.
    """
    allowed = _allowed(chances, longest_s)
    window = chances.window_s
    if window and window[0] <= longest_s:
        return chances.seconds.index(window[0]), window[0], min(window[1], longest_s)
    good = chances.chance_good[:allowed]
    index = int(good.argmax())
    close = [i for i in range(allowed) if good[i] >= CLOSE_ENOUGH * good[index]]
    first = close[0]
    most = chances.chance_damage[first] + HARM_MAY_GROW
    last = max(i for i in close if chances.chance_damage[i] <= most)
    return first, chances.seconds[first], chances.seconds[last]


def _damp_kind(recipe: Recipe, technique: Technique) -> str:
    if technique.press_cloth == "damp":
        return recipe.cloth_kind.replace("dry", "damp")
    return recipe.cloth_kind


def _allowed(chances: Chances, longest_s: float) -> int:
    return sum(second <= longest_s for second in chances.seconds)


def _instead(recipe: Recipe, status: str, good: float) -> str:
    if status == "safe" or recipe.instead:
        return recipe.instead
    if status == "do-not-press":
        last = recipe.passes[-1]
        through = "through a cloth" if last.cloth else "directly"
        return (
            "finger press, weigh down, or topstitch the allowance; at most, once a scrap has borne "
            f"it: {last.iron.words}, {through}, {last.seconds[1]:.0f} s a side, then a weight"
        )
    if good < WORTH_TRYING:
        return "it may well not lie flat: finger press, weigh down, or topstitch the allowance"
    return "if the swatch disappoints: finger press, weigh down, or topstitch the allowance"


def _window_reason(
    cloth: Cloth, best: Chances, index: int, damage: float, seconds: tuple[float, float]
) -> Reason:
    core, face = best.core_c[index], best.face_c[index]
    parts = [
        Reason(
            f"at {best.seconds[index]:.0f} s the seam line is at {core[1]:.0f} C "
            f"({core[0]:.0f} to {core[2]:.0f}), the face at {face[1]:.0f} C",
            evidence=DERIVED,
        ),
        Reason(
            f"chance of a set seam {best.chance_set[index]:.0%}, of damage somewhere on the "
            f"whole costume {damage:.1%} ({PLACEMENTS} placements, all passes)",
            evidence=DERIVED,
        ),
        Reason(f"what moves it most: {best.moved_most[0]}, {best.moved_most[1]}", evidence=DERIVED),
    ]
    parts += [Reason(text, evidence=GUESS) for text in stretched(cloth)]
    claim = f"{best.technique.words}: count {seconds[0]:.0f}, stop by {seconds[1]:.0f}"
    return Reason(claim, tuple(parts))
