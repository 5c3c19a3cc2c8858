"""What DXF of release 12 is written with: header, lines, points and texts."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence

from samite.pieces.plane import Point


def header(layers: Sequence[str]) -> str:
    """Return the header and the table of layers.

    Parameters
    ----------
    layers : sequence of str
        Names of the layers.

    Returns
    -------
    str
        DXF.
    """
    rows = "".join(f"0\nLAYER\n2\n{name}\n70\n0\n62\n7\n6\nCONTINUOUS\n" for name in ("0", *layers))
    return (
        "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1009\n0\nENDSEC\n0\nSECTION\n2\nTABLES\n"
        "0\nTABLE\n2\nLTYPE\n70\n1\n0\nLTYPE\n2\nCONTINUOUS\n70\n64\n3\nSolid line\n72\n65\n73\n0\n40\n0.0\n0\nENDTAB\n"
        f"0\nTABLE\n2\nLAYER\n70\n{len(layers) + 1}\n{rows}0\nENDTAB\n0\nENDSEC\n"
    )


def polyline(points: Sequence[Point], layer: str, *, closed: bool) -> str:
    """Return a line through points.

    Parameters
    ----------
    points : sequence of tuple of (float, float)
        Its points [mm].
    layer : str
        The layer.
    closed : bool
        Whether it returns to its start.

    Returns
    -------
    str
        DXF.
    """
    head = f"0\nPOLYLINE\n8\n{layer}\n66\n1\n70\n{int(closed)}\n10\n0.0\n20\n0.0\n30\n0.0\n"
    vertices = "".join(
        f"0\nVERTEX\n8\n{layer}\n10\n{x:.6f}\n20\n{y:.6f}\n30\n0.0\n" for x, y in points
    )
    return f"{head}{vertices}0\nSEQEND\n8\n{layer}\n"


def line(start: Point, end: Point, layer: str) -> str:
    """Return a straight line.

    Parameters
    ----------
    start, end : tuple of (float, float)
        Its ends [mm].
    layer : str
        The layer.

    Returns
    -------
    str
        DXF.
    """
    return (
        f"0\nLINE\n8\n{layer}\n10\n{start[0]:.6f}\n20\n{start[1]:.6f}\n30\n0.0\n"
        f"11\n{end[0]:.6f}\n21\n{end[1]:.6f}\n31\n0.0\n"
    )


def point(place: Point, layer: str) -> str:
    """Return a point.

    Parameters
    ----------
    place : tuple of (float, float)
        Where [mm].
    layer : str
        The layer.

    Returns
    -------
    str
        DXF.
    """
    return f"0\nPOINT\n8\n{layer}\n10\n{place[0]:.6f}\n20\n{place[1]:.6f}\n30\n0.0\n"


def text(text: str, place: Point, layer: str, size_mm: float = 5.0) -> str:
    """Return a line of text.

    Parameters
    ----------
    text : str
        The text.
    place : tuple of (float, float)
        Where it begins [mm].
    layer : str
        The layer.
    size_mm : float
        Height of the type [mm].

    Returns
    -------
    str
        DXF.
    """
    return (
        f"0\nTEXT\n8\n{layer}\n10\n{place[0]:.3f}\n20\n{place[1]:.3f}\n30\n0.0\n40\n{size_mm:.3f}\n1\n"
        f"{plain(text)}\n"
    )


def plain(text: str) -> str:
    """Return a text in the signs that release 12 bears, on one line.

    Parameters
    ----------
    text : str
        Anything.

    Returns
    -------
    str
        Accents taken off, what is left unknown made a low line.
    """
    folded = unicodedata.normalize("NFKD", text.replace("\n", " "))
    return "".join(
        char if " " <= char <= "~" else "" if unicodedata.combining(char) else "_"
        for char in folded
    )
