"""Pieces around the body that are cut wider in front than behind, or the other way round."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from samite.kernel.reasons import Reason
from samite.pieces.outline import Piece
from samite.pieces.shape import PRACTICE, Parameter, number, reason
from samite.pieces.shapes._ring import around
from samite.pieces.walk import Mate

EVEN = 0.5

_TELLING = 1e-6


def share_of(girth: str) -> Parameter:
    """Return the parameter that says how much of a girth lies in front of the side seams.

    Parameters
    ----------
    girth : str
        Word of the girth, ``waist``; a body whose halves were measured sets it.

    Returns
    -------
    Parameter
        A share, half by default.
    """
    name, says = f"front_{girth}_share", f"share of the {girth} in front of the side seams"
    return number(name, says, EVEN, 0.2, 0.8)


def are_alike(*shares: float) -> bool:
    """Tell whether front and back are cut alike.

    Parameters
    ----------
    *shares : float
        Shares in front [-].

    Returns
    -------
    bool
        Whether all are one half.
    """
    return all(abs(share - EVEN) <= _TELLING for share in shares)


def in_front_and_back(
    name: str, panels: int, shares: tuple[float, ...], build: Callable[[tuple[float, ...]], Piece]
) -> tuple[list[Piece], list[Mate], list[Reason]]:
    """Return equal panels around, or front panels and back panels where the shares differ.

    Parameters
    ----------
    name : str
        Name of a panel.
    panels : int
        Panels around.
    shares : tuple of float
        Share in front of each girth that matters [-].
    build : callable
        Returns one panel whose girths are these multiples of an equal panel's.

    Returns
    -------
    tuple of (list of Piece, list of Mate, list of Reason)
        The panels, the seams between them, and what front and back made of them.

    Notes
    -----
    Side seams need an even number of panels; with an odd one nothing can be wider in front.

    References
    ----------
    ``definition``: the front ends at the side seams.
    """
    if are_alike(*shares) or panels % 2:
        piece = build(tuple(1.0 for _ in shares))
        told = [] if are_alike(*shares) else [_cannot(panels)]
        return [replace(piece, name=name, copies=panels)], [around(name, panels)], told
    half = panels // 2
    widths = {
        f"front {name}": tuple(2.0 * share for share in shares),
        f"back {name}": tuple(2.0 * (1.0 - share) for share in shares),
    }
    pieces = [replace(build(wide), name=one, copies=half) for one, wide in widths.items()]
    mates = [around(one, half) for one in widths if half > 1]
    front, back = widths
    mates += [
        Mate((front, "right"), (back, "left"), stops=((0.5, 1),)),
        Mate((back, "right"), (front, "left"), stops=((0.5, 2),)),
    ]
    many = "1 panel" if half == 1 else f"{half} panels"
    hold = ", ".join(f"{share:.3g}" for share in dict.fromkeys(shares))
    return (
        pieces,
        mates,
        [reason(f"{many} in front with {hold} of the girth, {many} behind with the rest")],
    )


def _cannot(panels: int) -> Reason:
    if panels == 1:
        return reason("cut in one piece without side seams: where front and back part is no matter")
    return reason(
        f"{panels} panels have no seam at both sides, so front and back are cut alike; an even"
        " number would part them", PRACTICE,
    )  # fmt: skip
