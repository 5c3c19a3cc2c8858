"""A swatch in the words of the bench, for every face."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from samite.press.dials import Dial

THROUGH = {"none": "", "dry": "through a dry cloth", "damp": "through a damp cloth"}
STEAMS = {
    "none": "no steam",
    "hover": "steam held off",
    "light": "light steam",
    "full": "full steam",
}


def tried_words(view: Mapping[str, Any]) -> list[str]:
    """Return what was tried, one sentence a trial.

    Parameters
    ----------
    view : mapping of str to object
        In the form ``samite.swatch.v1``.

    Returns
    -------
    list of str
        The pressing, then the seam; at least one of them.
    """
    tried = view["tried"]
    found = [press_words(tried)] if tried["press"] else []
    return found + ([sew_words(tried["sew"])] if tried["sew"] else [])


def press_words(tried: Mapping[str, Any]) -> str:
    """Return a pressing in words.

    Parameters
    ----------
    tried : mapping of str to object
        ``tried`` of a ``samite.swatch.v1``.

    Returns
    -------
    str
        For example ``"wool/silk, two dots, no steam, wrong side, 6 s"``.
    """
    press = tried["press"]
    iron = f" of {tried['iron']}" if tried.get("iron") else ""
    sole = f", sole read {press['sole_c']:g} C" if press["sole_c"] is not None else ""
    contact = press["steam"] != "hover"
    parts = [
        f"{Dial(press['dial']).words}{iron}{sole}" if contact else STEAMS["hover"],
        STEAMS[press["steam"]] if contact else "",
        THROUGH[press["press_cloth"]],
        f"{press['side']} side",
        "one layer" if press["piece"] == "single-layer" else "",
        f"{press['seconds']:g} s",
        f"on {tried.get('board') or press['support'].replace('-', ' ')}",
        f"held under {press['hold_tool']} {press['hold_seconds']:g} s"
        if press["hold_seconds"]
        else "",
    ]
    return ", ".join(filter(None, parts))


def sew_words(sew: Mapping[str, Any]) -> str:
    """Return a seam in words.

    Parameters
    ----------
    sew : mapping of str to object
        ``tried.sew`` of a ``samite.swatch.v1``.

    Returns
    -------
    str
        For example ``"2 layers, needle stretch 75, polyester thread tex 27, stitch 304 at 2.5 mm"``.
    """
    width = f", {sew['stitch_width_mm']:g} mm wide" if sew["stitch_width_mm"] else ""
    parts = [
        f"{sew['layers']} layers" if sew["layers"] > 1 else "1 layer",
        f"needle {sew['needle_point']} {sew['needle_size_nm']}",
        f"{sew['thread_fibre']} thread tex {sew['thread_tex']:g}",
        f"stitch {sew['stitch_type']} at {sew['stitch_length_mm']:g} mm{width}",
        f"tension {sew['tension']:g}" if sew["tension"] is not None else "",
        f"stretched to {sew['stretch_percent']:g} %" if sew["stretch_percent"] is not None else "",
        f"{sew['hung_kg']:g} kg hung from 25 mm" if sew.get("hung_kg") is not None else "",
    ]
    return ", ".join(filter(None, parts))


def seen_words(view: Mapping[str, Any]) -> str:
    """Return what was seen in words.

    Parameters
    ----------
    view : mapping of str to object
        In the form ``samite.swatch.v1``.

    Returns
    -------
    str
        For example ``"set flat; shine, doubtful"``.
    """
    return "; ".join(_finding(item) for item in view["seen"])


def _finding(item: Mapping[str, Any]) -> str:
    text = str(item["words"])
    if item["shrunk_mm"] is not None:
        text += f" by {item['shrunk_mm']:g} mm in 10 cm"
    if item["stretch_percent"] is not None:
        text += f" to {item['stretch_percent']:g} %"
    return text + (", doubtful" if item["sureness"] == "doubtful" else "")
