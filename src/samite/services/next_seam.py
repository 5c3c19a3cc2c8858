"""Sewn scraps among the tests: which tells most about needle, stitch and strength."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from samite.services.card import Card
from samite.services.card_place import card_place
from samite.services.known import Known

if TYPE_CHECKING:
    from samite.swatch.seam_choice import SewChoice, SewTest
    from samite.swatch.seam_place import SeamPlace

SHOWN = 2
"""Sewn scraps that are told besides the card's own."""

LEAST_CHANCE = 0.01
"""Chance under which an outcome is not told [-]."""

SETTLES = "needle, stitch length, and whether the seam holds as worn"


def sewn_tests(card: Card, known: Known) -> tuple[list[dict[str, Any]], SewTest | None]:
    """Return the sewn scraps worth making on a cloth.

    Parameters
    ----------
    card : Card
        The card.
    known : Known
        The cloth with its journal.

    Returns
    -------
    list of dict of str to object
        Tests as they stand in ``samite.next.v1``, best by the minute first, the card's own seam
        always among them; empty where nothing is sewn by machine.
    SewTest or None
        The best of them.
    """
    from samite.swatch.seam_choice import rank_sewn_tests, sew_choice
    from samite.swatch.seam_learn import learn_sewn

    place = card_place(card.cloth, card.sewing, card.use)
    if place is None:
        return [], None
    past = known.past
    choice = sew_choice(learn_sewn(card.cloth, past.swatches, past.sewn_alike()), place)
    ranked = rank_sewn_tests(choice)
    own = next(one for one in ranked if not one.way.changed)
    told = ranked[:SHOWN] if own in ranked[:SHOWN] else [*ranked[:SHOWN], own]
    return [_test(one, choice) for one in told], ranked[0]


def _test(one: SewTest, choice: SewChoice) -> dict[str, Any]:
    from samite.swatch.seam_choice import SEWN_CM

    own = choice.ways[choice.best].words
    return {
        "kind": "sew",
        "test": sewn_words(one),
        "settles": SETTLES,
        "minutes": one.minutes,
        "cloth_cm": SEWN_CM,
        "worth": round(one.worth, 4),
        "worth_per_min": round(one.per_minute, 5),
        "worth_per_cm": round(one.worth / SEWN_CM, 5),
        "chance_harm": None,
        "now": True,
        "then": [
            {
                "seen": [sign.words],
                "chance": round(chance, 4),
                "leads_to": _leads(one.leads_to[sign], own),
            }
            for sign, chance in sorted(one.chances.items(), key=lambda item: -item[1])
            if chance >= LEAST_CHANCE
        ],
        "fields": sewn_fields(one),
    }


def _leads(words: str, own: str) -> str:
    return "nothing is changed" if words == own else f"rather {words}"


def sewn_words(one: SewTest) -> str:
    """Return a sewn scrap in words.

    Parameters
    ----------
    one : SewTest
        The scrap.

    Returns
    -------
    str
        What to sew, and how to try it.
    """
    place = one.way.place
    needle, stitch = place.settled.needle, place.stitch
    own = " as the card says" if not one.way.changed else ""
    text = (
        f"sew 20 cm on two layers{own}: needle {needle.point} {needle.size_nm}, thread tex "
        f"{place.settled.thread.linear_density_tex:g}, stitch {stitch.type} at "
        f"{stitch.length_mm:g} mm"
    )
    if one.stretched and place.stretch_percent:
        text += f"; mark 100 mm and pull it to {100 + place.stretch_percent:.0f} mm ten times"
    if one.hung and place.load_n_per_cm:
        text += f"; {hung_words(place)}"
    return text


def hung_words(place: SeamPlace) -> str:
    """Say which weight to hang from a seam, and how.

    Parameters
    ----------
    place : SeamPlace
        The seam with its load.

    Returns
    -------
    str
        In words; empty without a load.
    """
    if not place.load_n_per_cm:
        return ""
    return (
        f"hang {hung_kg(place):.1f} kg from 25 mm of it, clamped between strips of wood, over the "
        "floor, feet away"
    )


def hung_kg(place: SeamPlace) -> float:
    """Return the weight that loads 25 mm of a seam as wear does.

    Parameters
    ----------
    place : SeamPlace
        The seam with its load.

    Returns
    -------
    float
        Weight [kg].
    """
    from samite.swatch.seam_place import CLAMP_CM, GRAVITY_N_KG

    return (place.load_n_per_cm or 0.0) * CLAMP_CM / GRAVITY_N_KG


def sewn_fields(one: SewTest) -> dict[str, str]:
    """Return a sewn scrap as the fields of the form that keeps a swatch.

    Parameters
    ----------
    one : SewTest
        The scrap.

    Returns
    -------
    dict of str to str
        Fields as `samite.services.swatch_form` reads them.
    """
    from samite.tables.sewing import sewing_entry

    place = one.way.place
    settled, stitch = place.settled, place.stitch
    fields = {
        "tried": "sewing",
        "layers": "2",
        "needle_point": settled.needle.point,
        "needle_size": str(settled.needle.size_nm),
        "thread_fibre": sewing_entry("thread", settled.thread.kind).word("fibre"),
        "thread_tex": f"{settled.thread.linear_density_tex:g}",
        "stitch_type": stitch.type,
        "stitch_length": f"{stitch.length_mm:g}",
        "stitch_width": f"{stitch.width_mm:g}",
    }
    if one.stretched and place.stretch_percent:
        fields["stretched"] = f"{place.stretch_percent:.0f}"
    if one.hung:
        fields["hung"] = f"{hung_kg(place):.1f}"
    return fields
