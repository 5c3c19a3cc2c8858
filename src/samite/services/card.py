"""The bench card: from a label to how to prepare, cut, sew, finish and press the cloth."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.cloth.model import Cloth
from samite.garment.use import Use, read_use
from samite.kernel.quantity import Quantity, round_shown
from samite.kernel.reasons import Advice, Reason
from samite.labels.care import Care, advise_care
from samite.labels.safety import Caution, find_cautions
from samite.press.iron_fit import fit_to_iron
from samite.press.recipe import Recipe, choose_recipe
from samite.seam.choose import SewingAdvice, choose_sewing
from samite.services.iron import iron_json
from samite.services.kept_window import compute_window, kept_window
from samite.swatch.suggest import SwatchTest, suggest_swatches
from samite.tables.irons import Iron, household_iron

if TYPE_CHECKING:
    from samite.press.decide import Window
    from samite.services.learning import Taught
    from samite.services.past import Past
    from samite.swatch.seam_record import SeamChance

FORMAT = "samite.card.v1"


@dataclass(frozen=True, slots=True)
class Card:
    """A bench card.

    Parameters
    ----------
    label : str
        The label as typed.
    use : Use
        What the cloth is wanted for.
    cloth : Cloth
        The cloth.
    sewing : SewingAdvice
        What to do before and under the needle.
    press : Advice of Recipe
        How to press.
    window : Window or None
        The press window behind it, if it was computed.
    care : Advice of Care
        How to clean.
    cautions : tuple of Caution
        What to mind.
    swatches : tuple of SwatchTest
        Tests worth making.
    iron : Iron
        The iron that was counted with.
    taught : Taught or None
        What swatches taught; None if none is kept.
    sewn : tuple of SeamChance
        Chances of trouble of the card's own seam after sewn swatches; empty if there is none.
    """

    label: str
    use: Use
    cloth: Cloth
    sewing: SewingAdvice
    press: Advice[Recipe]
    window: Window | None
    care: Advice[Care]
    cautions: tuple[Caution, ...]
    swatches: tuple[SwatchTest, ...]
    iron: Iron
    taught: Taught | None = None
    sewn: tuple[SeamChance, ...] = ()

    def reasons(self) -> dict[str, Reason]:
        """Return the reason of every line of the card.

        Returns
        -------
        dict of str to Reason
            By the line's key in the JSON.
        """
        sewing = self.sewing
        found = {
            "prepare": sewing.prepare.reason,
            "cut": sewing.cut.reason,
            "mark": sewing.mark.reason,
            "needle": sewing.needle.reason,
            "thread": sewing.thread.reason,
            "stitch": sewing.stitch.reason,
            "seam": sewing.seam.reason,
            "holding": sewing.holding.reason,
            "feed": sewing.feed.reason,
            "hem": sewing.hem.reason,
            "press": self.press.reason,
            "care": self.care.reason,
        }
        found.update({f"cloth.{name}": reason for name, reason in self.cloth.reasons.items()})
        return found


def make_card(
    label: str,
    use_text: str = "",
    *,
    window: bool = False,
    iron: Iron | None = None,
    past: Past | None = None,
) -> Card:
    """Make the bench card of a cloth.

    Parameters
    ----------
    label : str
        What the bolt says.
    use_text : str
        What the cloth is wanted for, ``"lined, on skin, one night"``.
    window : bool
        Compute the press window too, which takes longer.
    iron : Iron or None
        The iron at hand; an unmeasured household iron if None.
    past : Past or None
        The journal of the cloth; its swatches are learnt from where the window is computed.

    Returns
    -------
    Card
        Every line with its reason.

    Raises
    ------
    InputError
        If the label or the use is malformed or contradicts itself.
    """
    use = read_use(use_text)
    cloth = build_cloth(read_label(label))
    iron = iron or household_iron()
    press = fit_to_iron(choose_recipe(cloth, use), iron)
    sewing = choose_sewing(cloth, use)
    order = seam_order(sewing)
    press, taught = _learnt_press(press, past, cloth, iron, window=window)
    wanted = window and press.value.passes
    computed = None
    if wanted and taught:
        computed = compute_window(cloth, press.value, iron, order=order, taught=taught)
    elif wanted:
        computed = kept_window(label, press.value, iron, order=order)
    if computed:
        limits = press
        press = window_advice(cloth, limits, computed)
        if taught:
            press, taught = finish_learning(press, limits.value, computed, taught, iron)
    return Card(
        label=label,
        use=use,
        cloth=cloth,
        sewing=sewing,
        press=press,
        window=computed,
        care=advise_care(cloth),
        cautions=find_cautions(cloth, use, ironed=bool(press.value.passes)),
        swatches=suggest_swatches(cloth, press.value),
        iron=iron,
        taught=taught,
        sewn=_sewn(cloth, sewing, use, past),
    )


def _sewn(
    cloth: Cloth, sewing: SewingAdvice, use: Use, past: Past | None
) -> tuple[SeamChance, ...]:
    """Return the troubles of the card's own seam after the swatches that were sewn."""
    if past is None or not any(item.sew and not item.set_aside for item in past.swatches):
        return ()
    from samite.services.card_place import card_place
    from samite.swatch.seam_learn import learn_sewn
    from samite.swatch.seam_record import seam_chances

    place = card_place(cloth, sewing, use)
    if place is None:
        return ()
    return seam_chances(learn_sewn(cloth, past.swatches, past.sewn_alike()), place)


def _learnt_press(
    press: Advice[Recipe], past: Past | None, cloth: Cloth, iron: Iron, *, window: bool
) -> tuple[Advice[Recipe], Taught | None]:
    """Lower the recipe by what swatches forbid, and learn from them where chances are wanted."""
    if past is None or not past.teaches:
        return press, None
    from samite.services.learning import cautious, learn_for

    press, caution = cautious(press, past)
    return press, learn_for(past, caution, cloth, iron) if window else None


def finish_learning(
    press: Advice[Recipe], limits: Recipe, window: Window, taught: Taught, iron: Iron
) -> tuple[Advice[Recipe], Taught]:
    """Put the window by the tables alone beside the learnt one, and say what allows it.

    Parameters
    ----------
    press : Advice of Recipe
        The recipe with the window's choice.
    limits : Recipe
        The recipe from limits.
    window : Window
        The window.
    taught : Taught
        What swatches taught.
    iron : Iron
        The iron at hand.

    Returns
    -------
    Advice of Recipe
        With the swatch that allows it among its reasons, where one does.
    Taught
        With both windows.
    """
    from samite.press.window import usual_bench
    from samite.services.learning import beside, with_success

    support = limits.support if limits.support != "none" else "board"
    stroked = limits.passes[-1].motion == "stroke"
    taught = beside(taught, window, usual_bench(support, iron), stroked=stroked)
    return with_success(press, window, taught.caution), taught


def seam_order(sewing: SewingAdvice) -> str:
    """Return how a seam lies when it is pressed, from its finish.

    Parameters
    ----------
    sewing : SewingAdvice
        The sewing advice.

    Returns
    -------
    str
        ``french`` if it encloses itself, ``to one side`` if both allowances are finished as
        one, else ``open``.
    """
    seam = sewing.seam.value
    if seam.finish == "french":
        return "french"
    return "to one side" if seam.finish_when in ("with-seam", "after") else "open"


def window_advice(cloth: Cloth, limits: Advice[Recipe], window: Window) -> Advice[Recipe]:
    """Return the recipe with the window's choice, both reasons under it.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    limits : Advice of Recipe
        The recipe from limits.
    window : Window
        The press window.

    Returns
    -------
    Advice of Recipe
        With seconds and chances.
    """
    from samite.press.decide import window_recipe

    timed = window_recipe(cloth, limits.value, window)
    reason = Reason(timed.reason.claim, (*timed.reason.because, limits.reason))
    return Advice(timed.value, reason)


def card_json(card: Card) -> dict[str, object]:
    """Return a card in the form ``samite.card.v1``.

    Parameters
    ----------
    card : Card
        The card.

    Returns
    -------
    dict of str to object
        As documented in ``docs/faces/cli.md``.
    """
    sewing, press = card.sewing, card.press.value
    return {
        "format": FORMAT,
        "for": card.use.as_dict(),
        "cloth": cloth_json(card.cloth),
        "prepare": sewing.prepare.value.as_dict(),
        "cut": sewing.cut.value.as_dict(),
        "mark": sewing.mark.value.as_dict(),
        "feed": sewing.feed.value.as_dict(),
        "hem": sewing.hem.value.as_dict(),
        "care": card.care.value.as_dict(),
        "needle": sewing.needle.value.as_dict(),
        "needles": [sewing.needle.value.as_dict()] + [n.as_dict() for n in sewing.other_needles],
        "thread": sewing.thread.value.as_dict(),
        "stitch": sewing.stitch.value.as_dict(),
        "seam": sewing.seam.value.as_dict(),
        "holding": sewing.holding.value.as_dict(),
        "press": press.as_dict(),
        "iron": iron_json(card.iron),
        "never": list(press.never),
        "cautions": [item.as_dict() for item in card.cautions],
        "swatches": [item.as_dict() for item in card.swatches],
        "reasons": {name: reason.as_dict() for name, reason in card.reasons().items()},
        **_learnt_json(card),
    }


def _learnt_json(card: Card) -> dict[str, object]:
    found: dict[str, object] = {}
    if card.taught:
        from samite.services.learning import taught_json

        found["learnt"] = taught_json(card.taught)
    if card.sewn:
        found["sewn"] = [
            {
                "trouble": item.sign.value,
                "words": item.sign.words,
                "seen": item.seen,
                "tried": item.tried,
                "chance": {key: round(getattr(item, key), 4) for key in ("low", "chance", "high")},
            }
            for item in card.sewn
        ]
    return found


def cloth_json(cloth: Cloth) -> dict[str, object]:
    """Return a cloth in the form used inside ``samite.card.v1``.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    dict of str to object
        As documented in ``docs/faces/cli.md``.
    """
    return {
        "label": cloth.reading.text,
        "structure": cloth.structure_name,
        "construction": cloth.construction,
        "yarn": cloth.yarn,
        "components": [
            {
                "part": part.kind.value,
                "fibres": [
                    {"fibre": item.fibre, "percent": round_shown(item.percent)}
                    for item in part.fibres
                ],
                "mass_share": round_shown(part.mass_share),
                "stated": part.stated,
            }
            for part in cloth.parts
        ],
        "mass_per_area_gsm": cloth.mass_per_area_gsm.as_dict(),
        "thickness_mm": cloth.thickness_mm.as_dict(),
        "width_cm": cloth.width_cm.as_dict() if cloth.width_cm else None,
        "stretch_percent": {
            "cross": round_shown(cloth.stretch_cross_percent.value),
            "length": round_shown(cloth.stretch_length_percent.value),
        },
        "density_kg_m3": cloth.density_kg_m3.as_dict(),
        "porosity": _porosity(cloth.packing),
        "regain_percent": cloth.regain_percent.as_dict(),
        "specific_heat_j_kgk": cloth.specific_heat_j_kgk.as_dict(),
        "conductivity_w_mk": cloth.conductivity_w_mk.as_dict(),
        "frays": cloth.frays,
        "slippery": cloth.slippery,
        "stiffness": cloth.stiffness,
        "sheer": cloth.sheer,
        "one_way": cloth.one_way,
        "holes_show": cloth.holes_show,
        "price": _price(cloth),
        "repeat_mm": {
            "along": cloth.reading.repeat_along_mm,
            "across": cloth.reading.repeat_across_mm,
        },
        "assumed": list(cloth.assumed),
        "unknown": list(cloth.unknown),
        "notes": list(cloth.reading.notes),
        "ignored": list(cloth.reading.ignored),
    }


def _porosity(packing: Quantity) -> dict[str, object]:
    shown = packing.as_dict()
    shown["value"] = round_shown(1.0 - packing.value)
    shown["low"] = round_shown(1.0 - packing.high)
    shown["high"] = round_shown(1.0 - packing.low)
    return shown


def _price(cloth: Cloth) -> dict[str, object] | None:
    price = cloth.reading.price
    return {"amount": price.amount, "currency": price.currency, "per": price.per} if price else None
