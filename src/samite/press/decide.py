"""Choose the technique from the window, within what the cloth's limits allow."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.reasons import Advice, Reason
from samite.press.draws import Draws
from samite.press.iron_fit import iron_bar
from samite.press.placements import PLACEMENTS
from samite.press.recipe import Pass, Recipe
from samite.press.techniques import STEAMS, Technique, all_techniques
from samite.press.window import DAMAGE_ALLOWED, Bench, Chances, press_chances
from samite.tables.fibres import fibre

SCREEN_DRAWS = 200
FULL_DRAWS = 2000
FINALISTS = 5
"""Techniques that are computed again with all draws, unless asked otherwise."""

WORTH_TRYING = 0.5
"""Below this chance of set and unharmed the answer is not to press."""

TOO_HARMFUL = 0.25
"""Chance of damage from which a press that may well not set is not worth trying [-]."""

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


@dataclass(frozen=True, slots=True, eq=False)
class Window:
    """All techniques on one cloth.

    Parameters
    ----------
    chances : tuple of Chances
        One a technique.
    barred : Mapping of Technique to str
        Why a technique is not to be used, whatever its chances.
    best : Chances or None
        The technique of the last pass; None if none may be used.
    before : tuple of Chances
        What the passes before it do.
    draws : int
        Draws behind the best.
    seed : int
        Seed of the draws.
    """

    chances: tuple[Chances, ...]
    barred: Mapping[Technique, str]
    best: Chances | None
    before: tuple[Chances, ...]
    draws: int
    seed: int


def press_window(
    cloth: Cloth,
    recipe: Recipe,
    bench: Bench,
    *,
    seed: int = 1,
    full: bool = False,
    everything: bool = True,
    finalists: int = FINALISTS,
) -> Window:
    """Compute every technique and choose the best that may be used.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    recipe : Recipe
        The recipe from limits: it bars what its parts or its look forbid.
    bench : Bench
        Iron, press cloth and support.
    seed : int
        Seed of the draws.
    full : bool
        Compute every technique with all draws, not only the finalists.
    everything : bool
        Compute the barred techniques too, to show what they would do.
    finalists : int
        Techniques that are computed again with all draws.

    Returns
    -------
    Window
        Chances of all techniques; the finalists with all draws.
    """
    techniques = all_techniques()
    iron = bench.iron
    barred = {t: why for t in techniques if (why := iron_bar(iron, t) or bar(cloth, recipe, t))}
    draws = Draws(FULL_DRAWS if full else SCREEN_DRAWS, seed)
    open_ones = [t for t in techniques if t not in barred]
    found = _all_chances(cloth, techniques if everything else open_ones, bench, draws)
    if not full:
        open_ones = sorted(open_ones, key=lambda t: _order(found[t]))[:finalists]
        found.update(_all_chances(cloth, open_ones, bench, Draws(FULL_DRAWS, seed)))
    best = min((found[t] for t in open_ones), key=_order, default=None)
    warm_ups = [_technique_of(step) for step in recipe.passes[:-1]]
    before = _all_chances(cloth, warm_ups, bench, draws)
    early = tuple(before[technique] for technique in warm_ups)
    return Window(tuple(found.values()), barred, best, early, FULL_DRAWS, seed)


def _technique_of(step: Pass) -> Technique:
    """Return the technique of a pass."""
    return Technique(step.iron, step.steam, "dry" if step.cloth else "none", step.side)


def _all_chances(
    cloth: Cloth, techniques: Sequence[Technique], bench: Bench, draws: Draws
) -> dict[Technique, Chances]:
    """Compute techniques two at a time: the compiled solver lets go of the interpreter."""
    with ThreadPoolExecutor(max_workers=2) as pool:
        found = pool.map(lambda t: press_chances(cloth, t, bench, draws), techniques)
        return dict(zip(techniques, found, strict=True))


def _order(chances: Chances) -> tuple[object, ...]:
    """Safe before the rest; then the better chance; then the gentler technique."""
    technique = chances.technique
    span = chances.window_s
    safe = span is not None and span[0] <= LONGEST_S
    good = 1.0 if safe else float(chances.chance_good[: _allowed(chances, LONGEST_S)].max())
    shortest = span[0] if span and safe else 0.0
    gentle = (STEAMS.index(technique.steam) if not technique.hovers else 0, technique.iron.dots)
    return (not safe, -round(good, 2), shortest, technique.press_cloth == "none", gentle)


def bar(cloth: Cloth, recipe: Recipe, technique: Technique) -> str:
    """Say why a technique may not be used on a cloth, or nothing.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
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
    if technique.press_cloth == "damp" and not _gains_from_water(cloth):
        return "its fibres gain nothing from water, only from heat"
    if technique.side != main.side:
        return f"the last pass goes on the {main.side} side"
    return ""


def _gains_from_water(cloth: Cloth) -> bool:
    """Whether enough of the base is softened by wetting and set by drying."""
    wetted = [i.percent for i in cloth.base.fibres if fibre(i.fibre).group in WETTED_GROUPS]
    return sum(wetted) >= 40.0


WETTED_GROUPS = frozenset({"cellulose", "protein"})


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
    longest = LONGEST_ON_DOTS_S if cloth.has(PartKind.DOTS) else LONGEST_S
    index, *seconds = count_and_stop(best, longest)
    if best.chance_good[index] < WORTH_TRYING:
        seconds = list(recipe.passes[-1].seconds)
        index = max(i for i, second in enumerate(best.seconds) if second <= seconds[1])
    damage = _damage_of_all(best, seconds[1], window.before, recipe)
    status = _status(best, index, damage)
    passes = tuple(
        _timed(step, best.technique, (seconds[0], seconds[1]), last=step is recipe.passes[-1])
        for step in recipe.passes
    )
    chosen = replace(
        recipe,
        status=status,
        passes=() if status == "do-not-press" else passes,
        instead=_instead(recipe, status, float(best.chance_good[index])),
        cloth_kind=_damp_kind(recipe, best.technique),
        chance_set=float(best.chance_set[index]),
        chance_damage=damage,
    )
    return Advice(chosen, _window_reason(best, index, damage, (seconds[0], seconds[1])))


def _damage_of_all(
    best: Chances, stop_s: float, before: tuple[Chances, ...], recipe: Recipe
) -> float:
    """Return the chance that any of the passes hurts when each goes on until its stop.

    As if independent: they share the cloth's and the iron's doubts, so it errs to the high side.
    """
    unharmed = 1.0 - _damage_at(best, stop_s)
    for chances, step in zip(before, recipe.passes, strict=False):
        unharmed *= 1.0 - _damage_at(chances, step.seconds[1])
    return 1.0 - unharmed


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


def _timed(step: Pass, technique: Technique, seconds: tuple[float, float], *, last: bool) -> Pass:
    if not last and step.side == "wrong" and not step.cloth:
        return step
    if technique.hovers:
        return replace(step, seconds=seconds)
    return replace(
        step,
        seconds=seconds,
        iron=technique.iron if last else step.iron,
        steam=technique.steam,
        cloth=technique.press_cloth != "none",
    )


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
    best: Chances, index: int, damage: float, seconds: tuple[float, float]
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
    claim = f"{best.technique.words}: count {seconds[0]:.0f}, stop by {seconds[1]:.0f}"
    return Reason(claim, tuple(parts))
