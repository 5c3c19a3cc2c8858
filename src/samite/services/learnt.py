"""What swatches have taught of a cloth: before and after, and as a file without photos and names."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from samite.services.card import Card, cloth_json, make_card
from samite.services.known import Known, known_of
from samite.sheets.before_after import LONGEST_S, draw_before_after, draw_moved
from samite.sheets.learnt_views import LearntCurve, LearntPair, MovedBar
from samite.store.codec import to_plain
from samite.swatch.trial import Swatch

if TYPE_CHECKING:
    from samite.press.window import Chances
    from samite.swatch.moved import Moved
    from samite.swatch.update import Learnt
    from samite.tables.irons import Iron

FORMAT = "samite.learnt.v1"
EXPORT_FORMAT = "samite.learnt-export.v1"
BARS = 8
"""Doubts that are drawn."""

NAMELESS = ("iron_key", "board_key")
"""Keys of a trial that point at something with a name."""


def learnt_view(
    path: Path,
    label: str,
    use: str = "",
    *,
    iron: Iron | None = None,
    iron_name: str = "",
    maker: str = "",
) -> dict[str, Any]:
    """Return what swatches have taught of a cloth.

    Parameters
    ----------
    path : Path
        File of the store.
    label : str
        What the bolt says, or the key of a cloth that is kept.
    use : str
        What the cloth is wanted for.
    iron : Iron or None
        The iron at hand.
    iron_name : str
        Its name or key in the store, if it is kept.
    maker : str
        Whose hand; empty for whoever made the last swatch.

    Returns
    -------
    dict of str to object
        In the form ``samite.learnt.v1``.
    """
    known = known_of(path, label, iron_name=iron_name, maker=maker)
    card = make_card(known.label, use, window=True, iron=iron, past=known.past)
    taught = card.taught
    learnt = taught.learnt if taught else known.past.learn(card.cloth, card.iron)
    before, after = (taught.before, taught.after) if taught else (None, None)
    if not learnt.used and not learnt.alike:
        after = before
    return {
        "format": FORMAT,
        "cloth": {"key": known.key, "label": known.label},
        "iron": card.iron.name,
        "used": len(learnt.used),
        "set_aside": known.aside,
        "alike": learnt.alike,
        "left_out": [_left_out(swatch, why) for swatch, why in learnt.left_out],
        "moved": [_moved(item) for item in learnt.moved],
        "technique": after.technique.words if after else "",
        "before": _curve(before) if before else None,
        "after": _curve(after) if after else None,
        "words": _words(learnt, known),
    }


def _left_out(swatch: Swatch, why: str) -> dict[str, str]:
    return {"made_on": swatch.made_on.isoformat(), "why": why}


def _moved(item: Moved) -> dict[str, Any]:
    return {
        "doubt": item.doubt,
        "owner": item.owner,
        "unit": item.unit,
        "before": [round(value, 4) for value in item.before],
        "after": [round(value, 4) for value in item.after],
        "sharper": round(item.sharper, 4),
    }


def _words(learnt: Learnt, known: Known) -> list[str]:
    """Say in a line or two what it comes to."""
    used, aside = len(learnt.used), known.aside
    said = [f"{swatch_count(used)} learnt from" + (f", {aside} set aside" if aside else "")]
    if learnt.alike:
        said.append(f"{swatch_count(learnt.alike)} of cloths alike lend a part")
    if not used and not learnt.alike:
        said.append("nothing is learnt yet: before and after are the same")
    return said


def swatch_count(count: int) -> str:
    """Say how many swatches.

    Parameters
    ----------
    count : int
        How many [1].

    Returns
    -------
    str
        In words.
    """
    return "1 swatch" if count == 1 else f"{count} swatches"


def _curve(chances: Chances) -> dict[str, Any]:
    return {
        "seconds": list(chances.seconds),
        "chance_set": [round(float(value), 5) for value in chances.chance_set],
        "chance_damage": [round(float(value), 5) for value in chances.chance_damage],
        "window_s": list(chances.window_s) if chances.window_s else None,
    }


def learnt_svg(view: Mapping[str, Any]) -> str | None:
    """Return the curves before and after, side by side.

    Parameters
    ----------
    view : mapping of str to object
        In the form ``samite.learnt.v1``.

    Returns
    -------
    str or None
        SVG; None if nothing is pressed.
    """
    if not view["after"]:
        return None
    pair = LearntPair(
        view["technique"],
        "; ".join(view["words"]),
        _learnt_curve("before", view["before"]),
        _learnt_curve("after", view["after"]),
    )
    return draw_before_after(pair)


def _learnt_curve(name: str, curve: Mapping[str, Any]) -> LearntCurve:
    window = curve["window_s"]
    if window and window[0] > LONGEST_S:
        window = None
    return LearntCurve(
        name,
        tuple(curve["seconds"]),
        tuple(curve["chance_set"]),
        tuple(curve["chance_damage"]),
        (window[0], min(window[1], LONGEST_S)) if window else None,
    )


def moved_svg(view: Mapping[str, Any]) -> str | None:
    """Return what moved as bars.

    Parameters
    ----------
    view : mapping of str to object
        In the form ``samite.learnt.v1``.

    Returns
    -------
    str or None
        SVG; None if nothing was learnt of.
    """
    bars = [
        MovedBar(
            item["doubt"],
            {"C": "°C", "1": ""}.get(item["unit"], item["unit"]),
            tuple(item["before"]),
            tuple(item["after"]),
        )
        for item in view["moved"][:BARS]
    ]
    return draw_moved(bars) if bars else None


def export_learnt(
    path: Path,
    label: str,
    *,
    iron: Iron | None = None,
    iron_name: str = "",
    view: Mapping[str, Any] | None = None,
) -> dict[str, Any]:
    """Return what was learnt without photos, names and notes, to be given away.

    Parameters
    ----------
    path : Path
        File of the store.
    label : str
        What the bolt says, or the key of a cloth.
    iron : Iron or None
        The iron at hand.
    iron_name : str
        Its name or key in the store.
    view : mapping of str to object or None
        What `learnt_view` gave for the same; computed if None.

    Returns
    -------
    dict of str to object
        In the form ``samite.learnt-export.v1``: the cloth by its make-up and not by its label, trials
        and findings, what moved, and the curves. No label, maker, iron's name, note, photo, key or
        day is in it.
    """
    known = known_of(path, label, iron_name=iron_name)
    told = dict(view or learnt_view(path, label, iron=iron, iron_name=iron_name))
    card = make_card(known.label, iron=iron)
    kept = [item for item in known.past.swatches if not item.set_aside]
    moved = [{**item, "doubt": _nameless(item["doubt"], card.iron.name)} for item in told["moved"]]
    return {
        "format": EXPORT_FORMAT,
        "cloth": _make_up(card),
        "swatches": [_stripped(item) for item in reversed(kept)],
        "used": told["used"],
        "alike": told["alike"],
        "moved": moved,
        "technique": told["technique"],
        "before": told["before"],
        "after": told["after"],
    }


def _nameless(text: str, iron_name: str) -> str:
    return text.replace(iron_name, "iron") if iron_name else text


MAKE_UP = (
    "structure", "construction", "yarn", "components", "mass_per_area_gsm", "thickness_mm",
    "stretch_percent", "frays", "sheer",
)  # fmt: skip
"""What is told of a cloth in place of its label."""


def _make_up(card: Card) -> dict[str, Any]:
    told = cloth_json(card.cloth)
    return {name: told[name] for name in MAKE_UP}


def _stripped(swatch: Swatch) -> dict[str, Any]:
    """Return a swatch without what names anyone or anything."""
    press, sew = to_plain(swatch.press), to_plain(swatch.sew)
    if press:
        press = {name: value for name, value in press.items() if name not in NAMELESS}
    return {"press": press, "sew": sew, "seen": [to_plain(item) for item in swatch.findings]}
