"""Lengths in sentences and tables, put into inches."""

from __future__ import annotations

import re

from samite.kernel.units import convert

_FIGURE = r"[+-]?\d+(?:\.\d+)?"
_LENGTHS = re.compile(rf"(?<![\w.])( *)((?:{_FIGURE}(?: to | x |, ))*{_FIGURE}) (mm|cm)(?![\w/])")


def in_inches(text: str) -> str:
    """Return a text with its lengths in inches.

    Parameters
    ----------
    text : str
        A text with lengths in millimetres and centimetres.

    Returns
    -------
    str
        Two decimals, so that a seam allowance stays itself; columns stay aligned.
    """
    return _LENGTHS.sub(_converted, text)


def _converted(found: re.Match[str]) -> str:
    unit, spaces = found[3], found[1]

    def inches(figure: re.Match[str]) -> str:
        sign = "+" if figure[0].startswith("+") else ""
        return f"{convert(float(figure[0]), unit, 'in'):{sign}.2f}"

    text = f"{re.sub(_FIGURE, inches, found[2])} in"
    # columns stay aligned
    return text.rjust(len(found[0])) if len(spaces) > 1 else spaces + text
