"""Rules of caution: what a failure forbids at once, and what only a success allows."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from samite.kernel.evidence import Evidence, Grade
from samite.kernel.reasons import Advice, Reason
from samite.press.decide import bar, technique_of
from samite.press.dials import Dial
from samite.press.recipe import Pass, Recipe
from samite.press.techniques import CLOTHS, STEAMS, Technique
from samite.press.window import SECONDS
from samite.swatch.seen import Sign, Sureness
from samite.swatch.trial import PressTrial, Swatch

OWN = Evidence("own-swatch", Grade.MEASURED_HERE)

WET_HARM = frozenset({Sign.PILE_CRUSHED, Sign.WATER_SPOT, Sign.SHRUNK})
"""Damage that water makes likelier; all other needs heat, from which water shields."""

NEVER_S = 0.0


@dataclass(frozen=True, slots=True)
class Caution:
    """What the swatches of one cloth forbid and allow with one iron.

    Parameters
    ----------
    recipe : Recipe
        The recipe from limits: it says what needs a success.
    failures : tuple of Swatch
        Pressed swatches of this cloth that showed any damage, doubtful or clear, with any iron.
    successes : tuple of Swatch
        Those that clearly showed none, with this iron.
    """

    recipe: Recipe
    failures: tuple[Swatch, ...]
    successes: tuple[Swatch, ...]

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
        failed = self._ended_by(technique)
        if failed and self._longest_after(failed, technique) < SECONDS[0]:
            return f"a swatch was hurt by no more: {_told(failed)}"
        if otherwise and not self.lifted(technique):
            return otherwise
        return ""

    def longest_s(self, technique: Technique) -> float:
        """Return how long a technique may be used on one place.

        Parameters
        ----------
        technique : Technique
            The technique.

        Returns
        -------
        float
            Less than any failure at no more; no more than the success that allows it [s].
        """
        ends = [self._longest_after(item, technique) for item in self.failures]
        longest = min(ends, default=math.inf)
        if self._needs_success(technique):
            longest = min(longest, self._borne_s(technique))
        return longest

    def lifted(self, technique: Technique) -> Swatch | None:
        """Return the swatch that allows a technique past the ceiling of the limits.

        Parameters
        ----------
        technique : Technique
            The technique.

        Returns
        -------
        Swatch or None
            One pressed as hot, as wet and as close with this iron, and not hurt; None if there is
            none, or the technique is forbidden for more than its dial.
        """
        if not self._needs_success(technique):
            return None
        borne = [item for item in self.successes if item.press and covers(item.press, technique)]
        return max(borne, key=_seconds, default=None)

    def _needs_success(self, technique: Technique) -> bool:
        """Whether only its dial stands against it."""
        if not self.recipe.passes or technique.hovers:
            return False
        main = self.recipe.passes[-1].iron
        hotter = technique.iron.dots > main.dots
        return hotter and not bar(self.recipe, replace(technique, iron=main))

    def _borne_s(self, technique: Technique) -> float:
        borne = self.lifted(technique)
        return _seconds(borne) if borne else NEVER_S

    def _ended_by(self, technique: Technique) -> Swatch | None:
        ends = {item: self._longest_after(item, technique) for item in self.failures}
        found = [item for item, longest in ends.items() if math.isfinite(longest)]
        return min(found, key=lambda item: ends[item], default=None)

    def _longest_after(self, failure: Swatch, technique: Technique) -> float:
        """Return how long a technique may be used after a failure."""
        trial = failure.press
        if trial is None or not at_least_as_hot(technique, failure):
            return math.inf
        if technique.iron.dots > trial.dial.dots and not technique.hovers:
            return NEVER_S
        shorter = [second for second in SECONDS if second < trial.seconds]
        return shorter[-1] if shorter else NEVER_S


def read_cautions(recipe: Recipe, swatches: Sequence[Swatch], iron_key: str) -> Caution:
    """Return what the swatches of a cloth forbid and allow.

    Parameters
    ----------
    recipe : Recipe
        The recipe from limits.
    swatches : sequence of Swatch
        Swatches of the cloth; those set aside count for nothing.
    iron_key : str
        Key of the iron in hand; empty for one that is not kept.

    Returns
    -------
    Caution
        Failures with any iron; successes with this one only.

    Notes
    -----
    A doubtful failure forbids as a clear one does. A doubtful success allows nothing.

    References
    ----------
    common-practice, no source: what marked a scrap is not tried hotter on the garment.
    """
    pressed = [item for item in swatches if item.press and not item.set_aside]
    failures = tuple(item for item in pressed if _harm(item))
    successes = tuple(
        item
        for item in pressed
        if item.press
        and item.press.iron_key == iron_key
        and not item.harmed
        and all(finding.sureness is Sureness.CLEAR for finding in item.findings)
    )
    return Caution(recipe, failures, successes)


def _harm(swatch: Swatch) -> set[Sign]:
    """Return the damage that pressing can have done."""
    return {item.sign for item in swatch.findings if item.sign.harms and item.sign.by_pressing} - {
        Sign.CRACKED
    }


def at_least_as_hot(technique: Technique, failure: Swatch) -> bool:
    """Say whether a technique is at least as hard on the cloth as a swatch that was hurt.

    Parameters
    ----------
    technique : Technique
        The technique, for as long or longer.
    failure : Swatch
        A pressed swatch with damage.

    Returns
    -------
    bool
        True if its dial is as hot, it is as close, on the same side, and as wet where water
        hurts; or as dry where water shields.

    Notes
    -----
    Steam held off is harder than nothing but where steam or water did the harm.
    """
    trial = failure.press
    if trial is None:
        return False
    wet = bool(_harm(failure) & WET_HARM)
    if trial.steam == "hover":
        return wet and (technique.hovers or technique.steam != "none")
    if technique.hovers:
        return False
    if technique.iron.dots < trial.dial.dots or technique.side != trial.side:
        return False
    steam, tried_steam = STEAMS.index(technique.steam), STEAMS.index(trial.steam)
    cloth, tried_cloth = CLOTHS.index(technique.press_cloth), CLOTHS.index(trial.press_cloth)
    as_dry = steam <= tried_steam and cloth <= tried_cloth
    if not wet:
        return as_dry
    as_wet = steam >= tried_steam and (cloth <= tried_cloth or technique.press_cloth == "damp")
    return as_wet or as_dry


def covers(trial: PressTrial, technique: Technique) -> bool:
    """Say whether a swatch that bore a trial speaks for a technique.

    Parameters
    ----------
    trial : PressTrial
        What it bore.
    technique : Technique
        The technique, for no longer.

    Returns
    -------
    bool
        True if the technique is no hotter, no wetter and no closer, on the same side.
    """
    if trial.steam == "hover" or technique.side != trial.side or trial.piece != "seam":
        return False
    wetter = STEAMS.index(technique.steam) > STEAMS.index(trial.steam)
    same_cloth = technique.press_cloth == trial.press_cloth
    thicker = trial.press_cloth == "none" and technique.press_cloth == "dry"
    return technique.iron.dots <= trial.dial.dots and not wetter and (same_cloth or thicker)


def lower_recipe(limits: Advice[Recipe], caution: Caution) -> Advice[Recipe]:
    """Lower a recipe at once by what swatches forbid, before any chance is computed.

    Parameters
    ----------
    limits : Advice of Recipe
        The recipe from limits.
    caution : Caution
        What the swatches forbid.

    Returns
    -------
    Advice of Recipe
        Shorter, else cooler, else no iron; unchanged if nothing forbids it.
    """
    recipe, said = limits.value, list[str]()
    passes: list[Pass] = []
    for step in recipe.passes:
        lowered = _lowered(step, recipe, caution)
        if lowered is None:
            said.append("no setting is left that no swatch was hurt by")
            return _not_with_iron(limits, said)
        if lowered != step:
            said.append(
                f"{lowered.iron.words}, {lowered.seconds[1]:.0f} s at most: {_why(step, recipe, caution)}"
            )
        passes.append(lowered)
    if not said:
        return limits
    changed = replace(recipe, passes=tuple(passes))
    because = (limits.reason, *(Reason(claim, evidence=OWN) for claim in said))
    return Advice(changed, Reason(f"{changed.iron.words}: lowered by a swatch", because))


def _lowered(step: Pass, recipe: Recipe, caution: Caution) -> Pass | None:
    """Return a pass that nothing forbids: shorter at the same dial, else at a cooler one."""
    for dial in sorted(Dial, key=lambda item: -item.dots):
        if step.steam != "hover" and (dial.dots > step.iron.dots or dial is Dial.NONE):
            continue
        cooler = step if step.steam == "hover" else replace(step, iron=dial)
        longest = caution.longest_s(technique_of(cooler, recipe))
        if longest >= min(step.seconds[0], SECONDS[0]):
            ends = (min(step.seconds[0], longest), min(step.seconds[1], longest))
            return replace(cooler, seconds=ends)
        if step.steam == "hover":
            return None
    return None


def _why(step: Pass, recipe: Recipe, caution: Caution) -> str:
    technique = technique_of(step, recipe)
    hurt = [item for item in caution.failures if at_least_as_hot(technique, item)]
    return _told(min(hurt, key=_seconds)) if hurt else "a swatch was hurt"


def _not_with_iron(limits: Advice[Recipe], said: list[str]) -> Advice[Recipe]:
    instead = "finger press, weigh down, or topstitch the allowance"
    without = replace(
        limits.value, status="do-not-press", passes=(), cloth_kind="", instead=instead
    )
    because = (limits.reason, *(Reason(claim, evidence=OWN) for claim in said))
    return Advice(without, Reason("no iron: every setting was tried and hurt a swatch", because))


def success_words(swatch: Swatch) -> str:
    """Say which swatch allows a technique past the ceiling.

    Parameters
    ----------
    swatch : Swatch
        The swatch.

    Returns
    -------
    str
        One sentence.
    """
    return (
        "hotter than its label or its parts' symbol allows, and only because a swatch of this cloth "
        f"bore it with this iron: {_told(swatch)}; for no longer than that"
    )


def _told(swatch: Swatch) -> str:
    trial = swatch.press
    signs = ", ".join(item.sign.words for item in swatch.findings)
    if trial is None:
        return signs
    way = Technique(trial.dial, trial.steam, trial.press_cloth, trial.side)
    return f"{way.words}, {trial.seconds:g} s on {swatch.made_on.isoformat()}: {signs}"


def _seconds(swatch: Swatch) -> float:
    return swatch.press.seconds if swatch.press else 0.0
