"""Answers that learn from the journal: the window before and after, and what made the difference."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from samite.cloth.model import Cloth
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.reasons import Advice, Reason
from samite.press.recipe import Recipe
from samite.services.past import Past
from samite.swatch.caution import Caution, lower_recipe, read_cautions, success_words

if TYPE_CHECKING:
    from samite.press.decide import Window
    from samite.press.pressing import Bench
    from samite.press.window import Chances
    from samite.swatch.moved import Moved
    from samite.swatch.update import Learnt
    from samite.swatch.wrong_label import LabelDoubt
    from samite.tables.irons import Iron

OWN = Evidence("own-swatch", Grade.MEASURED_HERE)
UNLEARNT_SEED = 1
TOLD = 4
"""Doubts that an answer names."""

BARELY = 0.03
"""Sharpening, or shift in spreads, under which a doubt is not said to have moved [-]."""


@dataclass(frozen=True, slots=True, eq=False)
class Taught:
    """What swatches taught an answer.

    Parameters
    ----------
    learnt : Learnt
        What is known now.
    caution : Caution
        What the swatches forbid and allow.
    before : Chances or None
        The chosen plan by the tables alone; None if no window was computed.
    after : Chances or None
        The same plan now.
    """

    learnt: Learnt
    caution: Caution
    before: Chances | None = None
    after: Chances | None = None


def cautious(limits: Advice[Recipe], past: Past) -> tuple[Advice[Recipe], Caution]:
    """Lower a recipe by what swatches forbid, before any chance is computed.

    Parameters
    ----------
    limits : Advice of Recipe
        The recipe from limits.
    past : Past
        The journal of the cloth.

    Returns
    -------
    Advice of Recipe
        Lowered, if a swatch was hurt.
    Caution
        What the swatches forbid and allow.
    """
    caution = read_cautions(limits.value, past.swatches, past.iron_key)
    return lower_recipe(limits, caution), caution


def learn_for(past: Past, caution: Caution, cloth: Cloth, iron: Iron) -> Taught:
    """Learn from the journal for one answer.

    Parameters
    ----------
    past : Past
        The journal of the cloth.
    caution : Caution
        What it forbids and allows.
    cloth : Cloth
        The cloth.
    iron : Iron
        The iron in hand.

    Returns
    -------
    Taught
        Without a window yet.
    """
    return Taught(past.learn(cloth, iron), caution)


def beside(taught: Taught, window: Window, bench: Bench, *, stroked: bool) -> Taught:
    """Put the chosen plan by the tables alone beside what is known now.

    Parameters
    ----------
    taught : Taught
        What was learnt.
    window : Window
        The window that was computed with it.
    bench : Bench
        Iron, press cloth and support.
    stroked : bool
        Whether the iron moves.

    Returns
    -------
    Taught
        With both, if there is a plan.
    """
    from samite.press.draws import Draws
    from samite.press.pressing import Placement
    from samite.press.told import careful
    from samite.press.window import press_chances

    if window.best is None:
        return taught
    plan = (*window.before, Placement(window.best.technique, 0.0, stroked=stroked))
    before = careful(press_chances(window.seam, plan, bench, Draws(window.draws, UNLEARNT_SEED)))
    return Taught(taught.learnt, taught.caution, before, window.best)


def with_success(press: Advice[Recipe], window: Window, caution: Caution) -> Advice[Recipe]:
    """Say which swatch allows a recipe that is hotter than the limits.

    Parameters
    ----------
    press : Advice of Recipe
        The recipe with the window's choice.
    window : Window
        The window.
    caution : Caution
        What the swatches allow.

    Returns
    -------
    Advice of Recipe
        With that reason first, if one allows it.
    """
    allowed = caution.lifted(window.best.technique) if window.best else None
    if allowed is None or not press.value.passes:
        return press
    reason = Reason(success_words(allowed), evidence=OWN)
    return Advice(press.value, Reason(press.reason.claim, (reason, *press.reason.because)))


def taught_json(taught: Taught) -> dict[str, Any]:
    """Return what was learnt in the form used inside ``samite.card.v1`` and ``samite.press.v1``.

    Parameters
    ----------
    taught : Taught
        What was learnt.

    Returns
    -------
    dict of str to object
        As documented in ``docs/faces/cli.md``.
    """
    learnt = taught.learnt
    return {
        "swatches": len(learnt.used),
        "alike": learnt.alike,
        "left_out": [
            {"made_on": item.made_on.isoformat(), "why": why} for item, why in learnt.left_out
        ],
        "draws_worth": round(learnt.worth, 1),
        "believed": round(learnt.study.believed, 3),
        "moved": [_moved_json(item) for item in learnt.moved],
        "label_doubts": [_doubt_json(item) for item in learnt.label_doubts],
        "before": _chances_json(taught.before),
        "after": _chances_json(taught.after),
        "words": list(taught_words(taught)),
    }


def _moved_json(item: Moved) -> dict[str, Any]:
    return {
        "doubt": item.doubt,
        "owner": item.owner,
        "unit": item.unit,
        "before": [round(value, 4) for value in item.before],
        "after": [round(value, 4) for value in item.after],
        "sharper": round(item.sharper, 4),
    }


def _doubt_json(item: LabelDoubt) -> dict[str, Any]:
    return {
        "part": item.part,
        "hurt": item.hurt,
        "before": round(item.before, 4),
        "chance": round(item.chance, 4),
        "like": [{"fibre": name, "chance": round(share, 4)} for name, share in item.like],
    }


def _chances_json(chances: Chances | None) -> dict[str, Any] | None:
    if chances is None:
        return None
    return {
        "technique": chances.technique.words,
        "seconds": list(chances.seconds),
        "chance_set": [round(float(value), 5) for value in chances.chance_set],
        "chance_damage": [round(float(value), 5) for value in chances.chance_damage],
        "window_s": list(chances.window_s) if chances.window_s else None,
    }


def taught_words(taught: Taught) -> tuple[str, ...]:
    """Say in a few sentences what swatches taught.

    Parameters
    ----------
    taught : Taught
        What was learnt.

    Returns
    -------
    tuple of str
        How many, what moved, and the window before and after.
    """
    learnt = taught.learnt
    said = [f"learnt from {_count(len(learnt.used), 'swatch', 'swatches')} of this cloth"]
    if learnt.alike:
        said[0] += f" and {learnt.alike} of cloths alike"
    said += [label_doubt_words(item) for item in learnt.label_doubts[:1]]
    moved = [item for item in learnt.moved if has_moved(item)][:TOLD]
    said += [_moved_words(item) for item in moved]
    if taught.before and taught.after:
        said.append(
            f"window {_span(taught.after.window_s)}; by the tables alone {_span(taught.before.window_s)}"
        )
    return tuple(said)


LIKE = 3
"""Fibres that are named where a label may be wrong."""


def label_doubt_words(item: LabelDoubt) -> str:
    """Say that a label may be wrong, and what the cloth behaves like.

    Parameters
    ----------
    item : LabelDoubt
        The part that contradicts its label.

    Returns
    -------
    str
        A sentence; what to do about it at its end.
    """
    like = ", ".join(f"{name} {100 * share:.0f}" for name, share in item.like[:LIKE])
    return (
        f"the label may be wrong of the {item.part}: {100 * item.chance:.0f} of 100, before "
        f"{100 * item.before:.0f} (a guess); it behaves like {like}: test the fibre, and press a "
        "scrap before the garment"
    )


def has_moved(item: Moved) -> bool:
    """Say whether a doubt moved enough to be told.

    Parameters
    ----------
    item : Moved
        The doubt.

    Returns
    -------
    bool
        True if it sharpened, or its middle moved against its spread.
    """
    spread = max(item.before[2] - item.before[0], 1e-12)
    return item.sharper > BARELY or abs(item.after[1] - item.before[1]) / spread > BARELY


def _moved_words(item: Moved) -> str:
    unit = "" if item.unit == "1" else f" {item.unit}"
    low, middle, high = item.after
    return (
        f"{item.doubt}: {middle:.3g}{unit} ({low:.3g} to {high:.3g}), "
        f"before {item.before[1]:.3g} ({item.before[0]:.3g} to {item.before[2]:.3g})"
    )


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"


def _span(window_s: tuple[float, float] | None) -> str:
    return f"{window_s[0]:g} to {window_s[1]:g} s" if window_s else "none"
