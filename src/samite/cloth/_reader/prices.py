"""Prices and discounts in the text of a label."""

from __future__ import annotations

import re

from samite.cloth._reader.text import LabelText
from samite.cloth.reading import Price

_MONEY = r"(?P<{name}>\d{{1,6}}(?:[.,]\d{{1,2}}|,-)?)"
_CURRENCY = (
    r"(?P<{name}>us\$|\u20ac|\u00a3|\$|\u00a5|euros?|eur|usd|gbp|chf|cad|aud|nzd|sek|nok|dkk|pln|czk"
    r"|huf|zl|kr|dollars?)"
)
_PER = (
    r"(?:\s*(?:/|per|pro|par|por|al|a|the|je)\s*(?:running |linear |lin\.? )?"
    r"(?P<{name}>half\s+(?:metre|meter|m|yard)|(?:10|50)\s*cm|"
    r"met(?:er|re)s?|mtr|metro|lfm|lm|m|yards?|yds?|y|pieces?|pcs?|stuck|remnants?)(?![\w2]))"
)
_FORMS = (
    _CURRENCY.format(name="c1") + r"\s*" + _MONEY.format(name="a1") + _PER.format(name="p1") + "?",
    _MONEY.format(name="a2")
    + r"\s*"
    + _CURRENCY.format(name="c2")
    + r"(?!\w)"
    + _PER.format(name="p2")
    + "?",
    _MONEY.format(name="a3") + r"\s*/" + _PER.format(name="p3").replace(r"(?:/|per|", "(?:|per|"),
)
_PRICE = re.compile(rf"(?<![\w.,/-])(?:{'|'.join(_FORMS)})(?![\w])")
_NOW = re.compile(r"\b(?:now|jetzt|today|sale|only|reduced to)\s*:?\s*$")


def take_price(label: LabelText) -> tuple[Price | None, list[str]]:
    """Take the price from a label.

    Parameters
    ----------
    label : LabelText
        The label; what is read is blanked out.

    Returns
    -------
    tuple of (Price or None, list of str)
        The price and notes; of several prices the one after "now", else the last.
    """
    found = label.take(_PRICE)
    if not found:
        return None, []
    chosen = next(
        (match for match in found if _NOW.search(label.whole[: match.start()])), found[-1]
    )
    notes = [] if len(found) == 1 else [f"of {len(found)} prices {chosen[0].strip()} is taken"]
    form = next(index for index in "123" if chosen[f"a{index}"] is not None)
    amount = float(chosen[f"a{form}"].removesuffix(",-").replace(",", "."))
    currency = chosen[f"c{form}"] if form != "3" else ""
    per, factor = _per(chosen[f"p{form}"])
    if factor != 1.0:
        notes.append(f"the price for {chosen[f'p{form}']} is turned into one per {per}")
    if chosen[f"p{form}"] is None:
        notes.append("the price is taken as one per metre")
    return Price(round(amount * factor, 4), (currency or "").upper(), per), notes


def _per(word: str | None) -> tuple[str, float]:
    if word is None:
        return "m", 1.0
    if word.startswith("half"):
        return ("yd", 2.0) if word.endswith("yard") else ("m", 2.0)
    if word.endswith("cm"):
        return "m", 100.0 / float(word.removesuffix("cm"))
    if word.startswith("y"):
        return "yd", 1.0
    if word.startswith(("p", "s", "r")):
        return "piece", 1.0
    return "m", 1.0
