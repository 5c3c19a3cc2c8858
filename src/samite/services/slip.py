"""The slip of a cloth: as JSON, as a drawing and on paper."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any

from samite.services.card import Card
from samite.services.next_seam import hung_kg, sewn_fields
from samite.services.prefill import sewing_fields
from samite.sheets.slip_page import print_slip
from samite.sheets.slip_picture import draw_slip
from samite.sheets.slip_views import SlipLine, SlipPlace, SlipSheet
from samite.store.codec import to_plain
from samite.swatch.slip import ZONES, Slip, SlipStep, plan_slip
from samite.swatch.trial import PressTrial

if TYPE_CHECKING:
    from samite.swatch.seam_choice import SewTest


def slip_of(card: Card, trials: Sequence[PressTrial] = (), sewn: SewTest | None = None) -> Slip:
    """Plan the slip of a card's cloth.

    Parameters
    ----------
    card : Card
        The card.
    trials : sequence of PressTrial
        Pressings that are worth a station.
    sewn : SewTest or None
        The sewn scrap that is worth most; the card's own seam if None.

    Returns
    -------
    Slip
        What one square of 20 cm is to tell.
    """
    seam = card.sewing.seam.value
    finish = "left raw, as the card says" if seam.finish == "none" else f"{seam.finish}: {seam.how}"
    if sewn is None:
        return plan_slip(card.cloth, card.press.value, _sewing(card), finish, trials)
    place = sewn.way.place
    return plan_slip(
        card.cloth,
        card.press.value,
        _sewn_words(sewn),
        finish,
        trials,
        stretch_percent=place.stretch_percent if sewn.stretched else None,
        hung_kg=hung_kg(place) if sewn.hung else None,
    )


def _sewn_words(sewn: SewTest) -> str:
    given = sewn_fields(sewn)
    return (
        f"needle {given['needle_point']} {given['needle_size']}, {given['thread_fibre']} thread tex "
        f"{given['thread_tex']}, stitch {given['stitch_type']} at {given['stitch_length']} mm"
        f"{' (not as the card: it tells more)' if sewn.way.changed else ''}"
    )


def _sewing(card: Card) -> str:
    given = sewing_fields(card)
    return (
        f"needle {given['needle_point']} {given['needle_size']}, {given['thread_fibre']} thread tex "
        f"{given['thread_tex']}, stitch {given['stitch_type']} at {given['stitch_length']} mm"
    )


def slip_json(slip: Slip) -> dict[str, Any]:
    """Return a slip as it stands in ``samite.next.v1``.

    Parameters
    ----------
    slip : Slip
        The slip.

    Returns
    -------
    dict of str to object
        Keys ``side_cm``, ``minutes``, ``cautions`` and ``steps``.
    """
    return {
        "side_cm": slip.side_cm,
        "minutes": slip.minutes,
        "cautions": list(slip.cautions),
        "steps": [
            {"number": number, **_step(step)} for number, step in enumerate(slip.steps, start=1)
        ],
    }


def _step(step: SlipStep) -> dict[str, Any]:
    return {
        "zone": step.zone,
        "box_cm": list(ZONES[step.zone]) if step.zone else None,
        "title": step.title,
        "do": step.do,
        "look": step.look,
        "settles": step.settles,
        "minutes": step.minutes,
        "cloth_cm": step.cloth_cm,
        "fields": trial_fields(step.trial) if step.trial else None,
    }


def trial_fields(trial: PressTrial) -> dict[str, str]:
    """Return a pressing as the fields of the form that keeps a swatch.

    Parameters
    ----------
    trial : PressTrial
        The pressing.

    Returns
    -------
    dict of str to str
        Fields as `samite.services.swatch_form` reads them.
    """
    plain = to_plain(trial)
    names = ("dial", "steam", "press_cloth", "side", "support", "piece", "hold_tool")
    numbers = {name: f"{plain[name]:g}" for name in ("seconds", "hold_seconds")}
    return {**{name: plain[name] for name in names}, **numbers}


def slip_sheet(label: str, slip: Mapping[str, Any]) -> SlipSheet:
    """Return what a slip's drawing and page show.

    Parameters
    ----------
    label : str
        What the bolt says.
    slip : mapping of str to object
        As `slip_json` gives it.

    Returns
    -------
    SlipSheet
        Words and places; two steps in one place share it under the first's number.
    """
    places: dict[str, SlipPlace] = {}
    for step in slip["steps"]:
        zone = step["zone"]
        if not zone or zone in places:
            continue
        if zone.startswith("press") and not step["fields"]:
            continue  # the seam itself: the dashed line stands for it
        kind = zone.partition("-")[0]
        box = step["box_cm"]
        places[zone] = SlipPlace(str(step["number"]), step["title"], kind, tuple(box))
    return SlipSheet(
        label=" ".join(label.split()),
        head=f"{slip['minutes']:g} minutes, {slip['side_cm']:g} x {slip['side_cm']:g} cm",
        side_cm=slip["side_cm"],
        places=tuple(places.values()),
        lines=tuple(_line(step) for step in slip["steps"]),
        cautions=tuple(slip["cautions"]),
    )


def _line(step: Mapping[str, Any]) -> SlipLine:
    return SlipLine(
        number=str(step["number"]),
        title=step["title"],
        do=step["do"],
        look=step["look"],
        settles=step["settles"],
        cost=cost_words(step["minutes"], step["cloth_cm"]),
        write=bool(step["look"]),
    )


def cost_words(minutes: float, cloth_cm: float) -> str:
    """Say what a test costs.

    Parameters
    ----------
    minutes : float
        Time [min].
    cloth_cm : float
        Seam or edge that it uses up [cm].

    Returns
    -------
    str
        For example ``"2 min, 4 cm"``.
    """
    return f"{minutes:g} min" + (f", {cloth_cm:g} cm" if cloth_cm else "")


def slip_svg(label: str, slip: Mapping[str, Any]) -> str:
    """Return the drawing of a slip.

    Parameters
    ----------
    label : str
        What the bolt says.
    slip : mapping of str to object
        As `slip_json` gives it.

    Returns
    -------
    str
        SVG.
    """
    return draw_slip(slip_sheet(label, slip))


def slip_pdf(
    label: str, slip: Mapping[str, Any], paper: str = "a4", dated: date | None = None
) -> bytes:
    """Return a slip as a page.

    Parameters
    ----------
    label : str
        What the bolt says.
    slip : mapping of str to object
        As `slip_json` gives it.
    paper : str
        ``a4`` or ``us-letter``.
    dated : datetime.date or None
        Date to print.

    Returns
    -------
    bytes
        PDF/UA-1.
    """
    return print_slip(slip_sheet(label, slip), paper, dated)
