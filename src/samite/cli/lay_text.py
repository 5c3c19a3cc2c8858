"""Lays as text on the terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from samite.services.lay import LayAnswer
from samite.services.lay_paper import lay_picture, notes_of, steps_of
from samite.sheets.tape import tape, tape_unit

if TYPE_CHECKING:
    from samite.services.lay_costume import SolvedCase


def answer_text(answer: LayAnswer, buy: dict[str, Any] | None, units: str) -> str:
    """Return a lay as text.

    Parameters
    ----------
    answer : LayAnswer
        The lay.
    buy : dict of str to object or None
        What to buy.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        What to buy, how much of it is sure, the pieces in the order of cutting.
    """
    if not answer.found:
        return f"no lay: {answer.lay.why}"
    lines = _lengths(answer, buy, units)
    lines += ["", *_steps(answer, units, face="up", nap=False)]
    return "\n".join(lines)


def _lengths(answer: LayAnswer, buy: dict[str, Any] | None, units: str) -> list[str]:
    lay, unit = answer.lay, tape_unit(units)
    lines = []
    if buy:
        lines.append(f"{_bought(buy['buy_mm'], units)} to buy{_price(buy)}")
        lines.append(f"{_bought(buy['best_buy_mm'], units)} at best: no lay can do with less")
    status = "proved the shortest" if lay.status == "optimal" else "the shortest found"
    lines.append(
        f"{tape(lay.length_mm, units)} {unit} laid, {status}; at most {answer.spare_percent:.1f} %"
        " more could be saved"
    )
    if lay.why:
        lines.append(lay.why)
    if answer.refused:
        lines.append(f"a shorter lay was refused: {answer.refused[0].text}")
    return lines


def _bought(length_mm: float, units: str) -> str:
    """Return a length as it is asked for at the shop."""
    if units == "imperial":
        return f"{tape(length_mm / 36.0, units)} yd"
    return f"{length_mm / 10.0:.0f} cm"


def _price(buy: dict[str, Any]) -> str:
    price = buy["price"]
    return f", {price['amount']:.2f} {price['currency']}".rstrip() if price else ""


def _steps(answer: LayAnswer, units: str, *, face: str, nap: bool) -> list[str]:
    picture = lay_picture(answer, "", face=face, nap=nap, units=units)
    lines = [f"CUT, in {'inches' if units == 'imperial' else 'centimetres'}"]
    lines += [f"  {number:>3} {name}: {how}" for number, name, how in steps_of(picture)]
    return lines


def costume_text(solved: tuple[SolvedCase, ...], document: dict[str, Any], units: str) -> str:
    """Return all lays of a costume as text.

    Parameters
    ----------
    solved : tuple of SolvedCase
        The lays.
    document : dict of str to object
        The same in the form ``samite.lays.v1``, with options and remnants.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        Every lay with its reasons.
    """
    parts = []
    for one, told in zip(solved, document["lays"], strict=True):
        parts.append("\n".join(_case(one, told, units)))
    return "\n\n".join(parts)


def _case(one: SolvedCase, told: dict[str, Any], units: str) -> list[str]:
    case, unit = one.case, tape_unit(units)
    head = f"{case.kind.upper()}{': ' + case.label if case.label else ''}"
    lines = [f"{head}, {tape(case.width_mm, units)} {unit} wide"]
    if not one.answer.found:
        return [*lines, f"  no lay: {one.answer.lay.why}"]
    lines += [f"  {line}" for line in _lengths(one.answer, one.buy, units)]
    rules = case.rules
    face = "right side up" if rules.face == "up" else "WRONG side up"
    way = "all pieces one way" if rules.one_way else "pieces either way"
    layers = "folded lengthwise" if rules.folded else "single layer"
    lines.append(
        f"  {layers}, {way}, {face}; {tape(rules.gap_mm, units)} {unit} between pieces,"
        f" {tape(rules.edge_mm, units)} {unit} kept free at the selvedges"
    )
    lines += [f"  {line}" for line in _steps(one.answer, units, face=rules.face, nap=rules.one_way)]
    picture = lay_picture(one.answer, "", face=rules.face, nap=rules.one_way, units=units)
    lines += ["  MIND", *(f"    {note}" for note in (*case.notes, *notes_of(picture)))]
    lines += _options(told, units)
    lines += _left(told, units)
    whys = [why for _, reason in rules.reasons for why in reason.lines(2)]
    whys += [why for reason in case.extra.reasons for why in reason.lines(2)]
    return [*lines, "  WHY", *(f"    {line}" for line in whys)]


def _options(told: dict[str, Any], units: str) -> list[str]:
    lines = [f"    {option_line(option, units)}" for option in told["options"]]
    return ["  OTHERWISE, each laid again", *lines] if lines else []


def option_line(option: dict[str, Any], units: str) -> str:
    """Return another choice as one line.

    Parameters
    ----------
    option : dict of str to object
        The choice, from ``options``.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        What it saves at the shop, what is laid, and what it costs besides cloth.
    """
    if "buy_mm" not in option:
        return f"{option['name']}: no lay, {option['why']}"
    saved, money = option["saves_mm"], option["saves_price"]
    word = "saves" if saved > 0 else "costs" if saved < 0 else "changes nothing at the shop"
    amount = f" {tape(abs(saved), units)} {tape_unit(units)}" if saved else ""
    price = f" ({abs(money):.2f})" if money else ""
    laid = f"{tape(option['length_mm'], units)} {tape_unit(units)} laid"
    tilted = f", tilted: {', '.join(option['tilted'])}" if option["tilted"] else ""
    why = f" ({option['why']})" if option["why"] else ""
    return f"{option['name']}: {word}{amount}{price}, {laid}{tilted}{why}; {option['says']}"


def _left(told: dict[str, Any], units: str) -> list[str]:
    lines = [
        f"    {one['pieces']} of {tape(one['outline_mm'][2][0], units)} x"
        f" {tape(one['outline_mm'][2][1], units)} {tape_unit(units)}"
        for one in told["remnants"]
    ]
    return ["  LEFT, length x width", *lines] if lines else []
