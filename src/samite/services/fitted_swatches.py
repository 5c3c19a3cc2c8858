"""Swatches of the journal that tell fitted pieces how far their cloth may be pulled."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from samite.kernel.errors import InfeasibleError, InputError
from samite.pieces.shapes.registry import fitted_shapes
from samite.services.fitted_cloth import LEAST_STRETCH_PERCENT, ClothGives
from samite.services.piece_ask import PieceAsk
from samite.swatch.strain_told import (
    StrainTold,
    borne_percent,
    crack_percent,
    sharpen,
    strain_told,
    stretched,
)
from samite.tables.fitted import strain_value

if TYPE_CHECKING:
    from samite.pieces.shape import Shape
    from samite.swatch.trial import Swatch

_LIMITS = {"warp_limit": "along", "weft_limit": "across"}


def with_swatches(ask: PieceAsk, path: Path, others: Sequence[str] = ()) -> PieceAsk:
    """Add the swatches of the cloth that a fitted shape is asked in.

    Parameters
    ----------
    ask : PieceAsk
        Its cloth may be a label or a key.
    path : Path
        File of the store; it need not be there.
    others : sequence of str
        Names of more shapes.

    Returns
    -------
    PieceAsk
        With the label of the cloth and its swatches that were stretched; the same if no shape is
        fitted, or the cloth is not kept.
    """
    fitted = any("-".join(name.split()) in fitted_shapes() for name in (ask.shape, *others))
    if not fitted or not ask.cloth.strip() or not path.is_file():
        return ask
    from samite.services.journal_views import find_cloth
    from samite.store.store import Store

    with Store(path, write=False) as store:
        try:
            cloth = find_cloth(store, ask.cloth)
        except InputError:
            return ask
        kept = store.swatches_of(cloth.key, most=store.count_of(cloth.key))
    return replace(
        ask, cloth=cloth.value.label, swatches=stretched(item.value for item in kept)
    )  # fmt: skip


def with_book(
    gives: ClothGives, shape: Shape, swatches: Sequence[Swatch], said: Collection[str]
) -> ClothGives:
    """Return what a cloth allows, sharpened by its swatches.

    Parameters
    ----------
    gives : ClothGives
        By its label.
    shape : Shape
        The shape.
    swatches : sequence of Swatch
        Swatches of the cloth.
    said : collection of str
        Settings that were set by hand: those are left alone.

    Returns
    -------
    ClothGives
        The sentence names the swatches that moved it; measured here if both directions, or the
        stretch, rest on them.

    Raises
    ------
    InfeasibleError
        If a shape that is worn stretched is asked in a cloth that cracked before.
    """
    told = strain_told(swatches)
    if not (told.bore or told.crack or told.disbelieved):
        return gives
    defaults = {one.name: one for one in shape.parameters}
    if "stretch_across" in defaults:
        return _stretch(gives, float(defaults["stretch_across"].default), told, said)
    settings, moved, measured = dict(gives.settings), [], True
    words = [_disbelieved(told)] if told.disbelieved else []
    for name, way in _LIMITS.items():
        if name in said:
            continue
        guess = settings.get(name, float(defaults[name].default))
        sharp = sharpen(guess, told)
        low, high = defaults[name].low, defaults[name].high
        settings[name] = min(max(sharp.percent, low), high)
        measured = measured and sharp.measured
        if sharp.by:
            moved.append(f"{settings[name]:.1f} % {way}")
            words = (
                [_why(told, sharp.by), *words[-1:]] if told.disbelieved else [_why(told, sharp.by)]
            )
    if not moved:
        words.insert(0, "its stretched swatches do not speak against that")
        return replace(gives, told="; ".join([gives.told, *words]), told_by=named(told))
    sentence = "; ".join([f"{gives.told}; by its swatches {' and '.join(moved)}", *words])
    grade = "measured-here" if measured else gives.grade
    return replace(gives, settings=settings, told=sentence, grade=grade, told_by=named(told))


def _stretch(
    gives: ClothGives, default: float, told: StrainTold, said: Collection[str]
) -> ClothGives:
    """Return a knit's stretch so that nowhere it is worn stretched up to a crack."""
    most = strain_value("knit", "stretch_most_percent").value / 100.0
    across = gives.settings.get("stretch_across", default)
    if told.most_percent is None or told.crack is None or "stretch_across" in said:
        return replace(gives, told_by=named(told))
    held = told.most_percent / most
    if held >= across:
        return replace(gives, told_by=named(told))
    if held < LEAST_STRETCH_PERCENT:
        raise InfeasibleError(
            f"{_name(told.crack)}: a garment smaller than the body would crack as it is worn",
            "cloth",
            "take another cloth or seam, a fitted shape with ease, or set that swatch aside if it was"
            " misread; --set stretch_across overrules it",
        )
    along = min(gives.settings.get("stretch_along", held), held)
    sentence = (
        f"{gives.told}; taken for one that stretches {held:.0f} % across: {_name(told.crack)}"
    )
    return replace(
        gives, settings={**gives.settings, "stretch_across": held, "stretch_along": along},
        told=sentence, grade="measured-here", told_by=named(told),
    )  # fmt: skip


def _why(told: StrainTold, by: Sequence[Swatch]) -> str:
    if told.crack is not None and told.crack in by:
        margin = strain_value("swatch", "crack_margin_percent").value
        return f"{_name(told.crack)}, less {margin:.0f} %; another stitch may bear more"
    names = " and ".join(_name(item) for item in by)
    most = strain_value("swatch", "raise_most_percent").value / 100.0
    how = "" if len(by) > 1 else ", and one swatch alone raises half way"
    return (
        f"{names}{how}, to {most:g} times the guess at most; if it was pulled in one direction only, give"
        " warp_limit and weft_limit"
    )


def _disbelieved(told: StrainTold) -> str:
    names = " and ".join(_name(item) for item in told.disbelieved)
    return f"{names}, but others bore more: taken for misread, or for a crack of its stitches only"


def named(told: StrainTold) -> tuple[str, ...]:
    """Return the swatches that tell of a stretch, one phrase each.

    Parameters
    ----------
    told : StrainTold
        What they tell.

    Returns
    -------
    tuple of str
        The crack that holds, those that bore, those that are not believed.
    """
    crack = (told.crack,) if told.crack else ()
    return tuple(_name(item) for item in (*crack, *told.bore, *told.disbelieved))


def _name(swatch: Swatch) -> str:
    stitch = f" ({swatch.sew.stitch_type} seam)" if swatch.sew else ""
    head = f"the swatch of {swatch.made_on.isoformat()}{stitch}"
    bore = borne_percent(swatch)
    if bore:
        return f"{head} bore {bore:g} % with nothing seen"
    return f"{head} cracked when stretched to {crack_percent(swatch):g} %"
