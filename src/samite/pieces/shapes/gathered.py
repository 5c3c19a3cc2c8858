"""Gathered rectangles: skirts, tiers, ruffles, ruffs, net."""

from __future__ import annotations

from dataclasses import replace

from samite.kernel.reasons import Reason
from samite.pieces.forms.gathers import (
    ruff_strip_mm,
    tier_widths_mm,
)
from samite.pieces.outline import Piece
from samite.pieces.shape import PRACTICE, Made, Shape, Values, mm, number, reason
from samite.pieces.shapes._ring import around, box
from samite.pieces.shapes._sides import in_front_and_back, share_of
from samite.pieces.shapes._waists import EASE, WAIST, at_level
from samite.pieces.walk import Mate


def _gathered_skirt(v: Values) -> Made:
    girth = v["waist"] + v["ease"]
    width = girth * v["fullness"]
    pieces, mates, told = _gathered_panels(
        "skirt panel", width, v, height=v["length"], over=v["fullness"]
    )
    pieces = [at_level(piece, "waist", "top") for piece in pieces]
    why = (reason(f"{v['fullness']:g} times {girth:.0f} mm, gathered to the waist"), *told)
    return Made(tuple(pieces), tuple(mates), (), {"width_mm": width, "gathered_to_mm": girth}, why)


def _gathered_panels(
    name: str, width: float, v: Values, *, height: float, over: float, lower: str = "hem"
) -> tuple[list[Piece], list[Mate], list[Reason]]:
    """Return rectangles around whose upper edges are gathered."""
    panels = v.count("panels")

    def panel(wide: tuple[float, ...]) -> Piece:
        return _gathered(
            box(name, wide[0] * width / panels, height, ("gathered", lower)), "top", over
        )

    return in_front_and_back(name, panels, (v["front_waist_share"],), panel)


def _gathered(piece: Piece, name: str, over: float) -> Piece:
    """Return a piece one edge of which knows to what length it is gathered."""
    edges = tuple(
        replace(edge, gathered_to_mm=edge.length_mm / over) if edge.name == name else edge
        for edge in piece.edges
    )
    return replace(piece, edges=edges)


def _tiered_skirt(v: Values) -> Made:
    girth, tiers = v["waist"] + v["ease"], v.count("tiers")
    widths = tier_widths_mm(waist_mm=girth, fullness=v["fullness"], tiers=tiers)
    pieces: list[Piece] = []
    mates: list[Mate] = []
    above: list[Piece] = []
    told: list[Reason] = []
    for k, width in enumerate(widths, 1):
        lower = "hem" if k == tiers else "seam"
        made, seams, told = _gathered_panels(
            f"tier {k}", width, v, height=v["length"] / tiers, over=v["fullness"], lower=lower
        )
        made = made if above else [at_level(piece, "waist", "top") for piece in made]
        pieces += made
        mates += seams
        for upper, piece in zip(above, made, strict=False):
            ease = piece.edge("top").length_mm - upper.edge("bottom").length_mm
            stops = ((0.25, 1), (0.5, 2), (0.75, 1))
            mates.append(Mate((upper.name, "bottom"), (piece.name, "top"), ease, stops=stops))
        above = made
    values = {f"tier_{k}_width_mm": width for k, width in enumerate(widths, 1)}
    why = (reason(f"each tier is {v['fullness']:g} times as wide as the one above"), *told)
    return Made(tuple(pieces), tuple(mates), (), {**values, "gathered_to_mm": girth}, why)


def _ruffle(v: Values) -> Made:
    width, panels = v["finished"] * v["fullness"], v.count("panels")
    piece = box("ruffle", width / panels, v["depth"], ("gathered", "hem"), copies=panels)
    piece = _gathered(piece, "top", v["fullness"])
    why = (reason(f"{v['fullness']:g} times {v['finished']:.0f} mm"),)
    return Made((piece,), (around("ruffle", panels),), (), {"width_mm": width}, why)


def _ruff(v: Values) -> Made:
    band = v["neck"] + v["ease"]
    strip = ruff_strip_mm(band_mm=band, depth_mm=v["depth"], pitch_mm=v["pitch"])
    panels = v.count("panels")
    piece = box("ruff strip", strip / panels, v["depth"], ("gathered", "hem"), copies=panels)
    piece = _gathered(piece, "top", strip / band)
    figures = band / v["pitch"]
    values = {"strip_length_mm": strip, "figures": figures}
    why = (reason(f"{figures:.1f} figures of eight of pitch {v['pitch']:g} mm on {band:.0f} mm"),)
    return Made((piece,), (around("ruff strip", panels),), (), values, why)


def _tutu(v: Values) -> Made:
    girth, layers = v["hip"] + v["ease"], v.count("layers")
    pieces = []
    for k in range(layers):
        share = k / max(layers - 1, 1)
        depth = v["longest"] + (v["shortest"] - v["longest"]) * share
        layer = box(f"layer {k + 1}", girth * v["fullness"], depth, ("gathered", "edge"))
        layer = at_level(_gathered(layer, "top", v["fullness"]), "hip", "top")
        pieces.append(at_level(layer, "hem", "bottom"))
    total = layers * girth * v["fullness"]
    why = (
        reason("every layer the same length, depths falling evenly from top to bottom", PRACTICE),
    )
    return Made(tuple(pieces), (), (), {"net_length_mm": total}, why)


_LENGTH = mm("length", "from waist to hem", -40, low=10, high=3000, waist_height=1.0)
_PANELS = number("panels", "panels around", 3, 1, 60, "count")

SHAPES = (
    Shape(
        "gathered-skirt",
        "skirt of rectangles gathered to the waist",
        (
            WAIST,
            EASE,
            _LENGTH,
            number("fullness", "width over waist", 2.5, 1.0, 12.0),
            _PANELS,
            share_of("waist"),
        ),
        _gathered_skirt,
        ("gathered skirt", "dirndl", "petticoat"),
    ),
    Shape(
        "tiered-skirt",
        "skirt of tiers, each gathered to the one above",
        (
            WAIST,
            EASE,
            _LENGTH,
            number("fullness", "width of a tier over that above", 1.6, 1.0, 6.0),
            number("tiers", "number of tiers", 3, 1, 12, "count"),
            _PANELS,
            share_of("waist"),
        ),
        _tiered_skirt,
        ("tiered skirt", "tiers"),
    ),
    Shape(
        "ruffle",
        "straight strip gathered along one edge",
        (
            mm("finished", "length that it is gathered to", 1000, low=10, high=100000),
            number("fullness", "length before over after", 2.0, 1.0, 8.0),
            mm("depth", "depth", 120, low=5, high=2000),
            number("panels", "strips joined", 1, 1, 200, "count"),
        ),
        _ruffle,
        ("ruffle", "frill"),
    ),
    Shape(
        "ruff",
        "ruff set in figures of eight",
        (
            mm("neck", "neck girth", low=100, high=2000, neck_girth=1.0),
            mm("ease", "ease", 10, low=-50, high=300),
            mm("depth", "height of the figures", 100, low=10, high=500),
            mm("pitch", "band taken by one figure", 20, low=3, high=300),
            number("panels", "strips joined", 3, 1, 60, "count"),
        ),
        _ruff,
        ("ruff",),
    ),
    Shape(
        "tutu",
        "layers of net on knickers",
        (
            mm("hip", "girth where the layers are set", low=100, high=5000, hip_girth=1.0),
            mm("ease", "ease", 20, low=-300, high=500),
            number("layers", "number of layers", 8, 1, 20, "count"),
            number("fullness", "length of a layer over the girth", 4.0, 1.0, 12.0),
            mm("longest", "depth of the top layer", 350, low=20, high=1500),
            mm("shortest", "depth of the lowest layer", 80, low=10, high=1500),
        ),
        _tutu,
        ("tutu",),
    ),
)
