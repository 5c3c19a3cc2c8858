"""Cutting goes on: the rest is laid anew, or some pieces are pinned down."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from typing import Any

from samite.kernel.errors import InputError
from samite.kernel.units import parse_quantity
from samite.lay.again import Copy, Trouble
from samite.lay.problem import Lay, Outline, Problem
from samite.services.lay import FORMAT, lay_of

COPY = re.compile(r"^(?P<name>.*?)(?:\s+(?P<number>\d+))?$")


def read_lay(text: str) -> Lay:
    """Read a lay that this program wrote.

    Parameters
    ----------
    text : str
        JSON in the form ``samite.lay.v1``.

    Returns
    -------
    Lay
        The lay.

    Raises
    ------
    InputError
        If it is none.
    """
    try:
        document: Any = json.loads(text)
        if document.get("format") != FORMAT:
            raise InputError("that is no lay", "--lay", f"give a file of {FORMAT}")
        return lay_of(document)
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise InputError(
            "the lay cannot be read", "--lay", "give what samite lay --json wrote"
        ) from None


def read_copies(problem: Problem, texts: Sequence[str], option: str) -> frozenset[Copy]:
    """Read names of pieces with the numbers of their copies, as drawings show them.

    Parameters
    ----------
    problem : Problem
        The pieces.
    texts : sequence of str
        ``front 2``; a bare name for its only copy.
    option : str
        Where they were given.

    Returns
    -------
    frozenset of (str, int)
        Names and numbers from 0.

    Raises
    ------
    InputError
        If there is no such piece.
    """
    names = {piece.name for piece in problem.pieces}
    found = set()
    for text in texts:
        if text.strip() in names:
            found.add((text.strip(), 0))
            continue
        match = COPY.match(text.strip())
        name, number = (match["name"], match["number"]) if match else ("", None)
        if name not in names or number is None or int(number) < 1:
            raise InputError(
                f"no piece {text[:60]!r}",
                option,
                f"write it as it is drawn: {', '.join(sorted(names))[:200]}",
            )
        found.add((name, int(number) - 1))
    return frozenset(found)


def read_trouble(
    problem: Problem,
    *,
    cut: Sequence[str] = (),
    spoilt: Sequence[str] = (),
    width: str = "",
    flaws: Sequence[str] = (),
    lengths: Sequence[str] = (),
) -> Trouble:
    """Read what came out differently at the table.

    Parameters
    ----------
    problem : Problem
        What was asked.
    cut : sequence of str
        Pieces that are cut and good.
    spoilt : sequence of str
        Pieces that were cut wrong.
    width : str
        Width as it turned out.
    flaws : sequence of str
        Each ``RIGHT x END x WIDTH x LENGTH``: from the right rim, from the end, and its size.
    lengths : sequence of str
        Lengths in which the cloth came.

    Returns
    -------
    Trouble
        In millimetres.

    Raises
    ------
    InputError
        If something cannot be read.
    """
    return Trouble(
        read_copies(problem, cut, "--cut"),
        read_copies(problem, spoilt, "--spoilt"),
        parse_quantity(width, "mm") if width else 0.0,
        tuple(read_flaw(text) for text in flaws),
        tuple(parse_quantity(text, "mm") for text in lengths),
    )


def read_flaw(text: str) -> Outline:
    """Read a flaw as a person measures it.

    Parameters
    ----------
    text : str
        ``30 x 120 x 5 x 4 cm``: from the right rim, from the end, its width, its length.

    Returns
    -------
    tuple of (float, float)
        Its corners [mm].

    Raises
    ------
    InputError
        If it cannot be read.
    """
    parts = [part.strip() for part in re.split(r"\s*[x;]\s*", text.strip())]
    unit = re.sub(r"^[\d\s./,]+", "", parts[-1]) or "cm"
    if len(parts) != 4:
        raise InputError(
            f"{text[:60]!r} is no flaw", "--flaw",
            'write "30 x 120 x 5 x 4 cm": from the right rim, from the end, its width, its length',
        )  # fmt: skip
    sizes = [
        parse_quantity(part if re.search(r"[a-z\"']", part) else f"{part} {unit}", "mm")
        for part in parts
    ]
    right, end, width, length = sizes
    return (
        (end, right), (end + length, right), (end + length, right + width), (end, right + width),
    )  # fmt: skip
