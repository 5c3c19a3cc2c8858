"""Measures in sentences, tables and drawings, put into inches, ounces and degrees Fahrenheit."""

from __future__ import annotations

import math
import re

from samite.kernel.units import convert

_FIGURE = r"[+-]?\d+(?:\.\d+)?"
_LENGTHS = re.compile(rf"(?<![\w.])( *)((?:{_FIGURE}(?: to | x |, ))*{_FIGURE}) (mm|cm)(?![\w/])")

_MEASURES = re.compile(rf"(?<![\w.])((?:{_FIGURE} to )?{_FIGURE}) (mm|cm|g/m2|C)(?![\w/])")
_WRITTEN = re.compile(r">([^<>]+)<")
_SHOWN = {"mm": "in", "cm": "in", "g/m2": "oz/yd2", "C": "F"}


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


def in_imperial(text: str) -> str:
    """Return a sentence with its lengths, masses and temperatures in imperial units.

    Parameters
    ----------
    text : str
        A sentence with millimetres, centimetres, g/m2 and degrees Celsius.

    Returns
    -------
    str
        Lengths in hundredths of an inch, thousandths under a tenth, quarters from four inches on;
        temperatures rounded down to the next five degrees.
    """
    return _MEASURES.sub(_imperial, text)


def _imperial(found: re.Match[str]) -> str:
    unit = found[2]

    def shown(figure: re.Match[str]) -> str:
        number = convert(float(figure[0]), unit, _SHOWN[unit])
        if unit == "C":
            return f"{5 * math.floor(number / 5 + 1e-9):d}"
        return f"{number:.3g}" if unit == "g/m2" else _tape(number)

    return f"{re.sub(_FIGURE, shown, found[1])} {_SHOWN[unit]}"


def _tape(inches: float) -> str:
    if abs(inches) >= 4.0:
        return f"{round(4.0 * inches) / 4.0:g}"
    return f"{inches:.{3 if abs(inches) < 0.1 else 2}f}"


def drawn_imperial(svg: str) -> str:
    """Return a drawing with the measures that are written in it in imperial units.

    Parameters
    ----------
    svg : str
        SVG.

    Returns
    -------
    str
        The same lines; only what is written has changed.
    """
    return _WRITTEN.sub(lambda found: f">{in_imperial(found[1])}<", svg)
