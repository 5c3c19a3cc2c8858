"""The lay page: what was asked, and every lay as it stands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from markupsafe import Markup

from samite.kernel.errors import InputError
from samite.kernel.units import parse_quantity
from samite.lay.again import Copy
from samite.pieces.shapes.registry import shapes
from samite.services.lay_cases import LayAsk, lay_cases
from samite.services.lay_desk import DeskView, LayDesk, case_order, option_orders
from samite.services.lay_keep import lay_offcuts
from samite.services.lay_paper import notes_of, steps_of
from samite.services.piece_ask import PieceAsk
from samite.sheets.lay_sheet import LayPicture, lay_sheet
from samite.sheets.piece_svg import sheet_svg
from samite.sheets.tape import tape, tape_unit
from samite.tables.bodies import MeasureEntry, measure_entry

FIRST = ("stature", "bust_girth", "waist_girth", "hip_girth")
SHAPE_FIELDS = ("shape", "shape2", "shape3", "shape4")
TEXTS = (
    "label", "widths", "lining_cloth", "interfacing", "test_cloth", "table", "crosswise", "join",
    "facing",
    "age", "group", "fold", "nap", "seconds", "shrink",
)  # fmt: skip
TICKS = ("lining", "pretreated", "flaws_seen", "options")
SECONDS = ("2", "5", "10", "30", "60", "300")
GROUPS = ("adult", "women", "men", "girls", "boys")
MOST_FIELDS = 80
LONGEST = 400
SMALL_MM, LARGE_MM = 90.0, 115.0
"""Width of open cloth on the page, and of the strip on the page of one lay [mm]."""

STATES = {
    "asked": "not laid yet",
    "waiting": "waits for its turn",
    "running": "looking for a shorter one",
    "stopping": "stopping",
    "done": "done",
    "cancelled": "stopped: the best so far",
    "failed": "failed",
}


@dataclass(frozen=True, slots=True)
class LayQuery:
    """What stands in the form.

    Parameters
    ----------
    fields : mapping of str to str
        Names and values.
    units : str
        ``metric`` or ``imperial``.
    """

    fields: Mapping[str, str]
    units: str

    def get(self, name: str) -> str:
        """Return a field.

        Parameters
        ----------
        name : str
            Its name.

        Returns
        -------
        str
            Its value; empty if it was not filled in.
        """
        return self.fields.get(name, "")

    @property
    def asked(self) -> bool:
        """Whether a shape was chosen."""
        return any(self.get(name) for name in SHAPE_FIELDS)

    @property
    def seconds(self) -> float:
        """Time to search for each lay [s]."""
        return float(self.get("seconds") or "10")

    @property
    def table_mm(self) -> float:
        """Length of the table [mm]."""
        return parse_quantity(self.get("table"), "mm") if self.get("table") else 0.0


def read_query(query: Sequence[tuple[str, str]], units: str) -> LayQuery:
    """Read the query of the page.

    Parameters
    ----------
    query : sequence of (str, str)
        Names and values.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    LayQuery
        Only what was filled in.

    Raises
    ------
    InputError
        If there are too many fields, one is far too long, or a choice is none.
    """
    if len(query) > MOST_FIELDS or any(len(value) > 10 * LONGEST for _, value in query):
        raise InputError("that is more than the page asks", "lay", "start again at /lay")
    fields = {name: value.strip() for name, value in query if value.strip()}
    if fields.get("seconds", "10") not in SECONDS:
        raise InputError("that is no time to search", "seconds", ", ".join(SECONDS))
    return LayQuery(fields, units)


def read_ask(query: LayQuery) -> LayAsk:
    """Return what the form asks.

    Parameters
    ----------
    query : LayQuery
        The form.

    Returns
    -------
    LayAsk
        Shapes and cloths.
    """
    measures = {
        name.removeprefix("m."): value
        for name, value in query.fields.items()
        if name.startswith("m.")
    }
    first = PieceAsk(
        "",
        measures,
        group=query.get("group") or "adult",
        age=query.get("age"),
        shrink=query.get("shrink"),
        lining=query.get("lining") == "yes",
        facings=_parts(query.get("facing")),
    )
    bare = replace(first, facings=())
    names = [query.get(name) for name in SHAPE_FIELDS if query.get(name)]
    return LayAsk(
        tuple(
            replace(bare if number else first, shape=name)
            for number, name in enumerate(dict.fromkeys(names))
        ),
        {
            "shell": query.get("label"),
            "lining": query.get("lining_cloth"),
            "interfacing": query.get("interfacing"),
            "test garment": query.get("test_cloth"),
        },
        _parts(query.get("widths")),
        query.get("fold"),
        query.get("nap"),
        _parts(query.get("crosswise")),
        _parts(query.get("join")),
        query.get("pretreated") == "yes",
        query.get("flaws_seen") == "yes",
        query.units,
    )


def _parts(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(";") if part.strip())


def put_orders(desk: LayDesk, query: LayQuery, back: str) -> list[str]:
    """Put down every lay that the form asks for.

    Parameters
    ----------
    desk : LayDesk
        The desk.
    query : LayQuery
        The form.
    back : str
        Query of the page.

    Returns
    -------
    list of str
        Their keys.

    Raises
    ------
    SamiteError
        Whatever is malformed, impossible or unknown.
    """
    ask = read_ask(query)
    keys: list[str] = []
    for case in lay_cases(ask):
        order = case_order(ask, case, query.table_mm, back)
        plain = desk.put(order, seconds=query.seconds, seed=0)
        others = option_orders(ask, case, order, plain) if query.get("options") == "yes" else ()
        keys += [plain, *(desk.put(one, seconds=query.seconds, seed=0) for one in others)]
    return keys


def form_values(query: LayQuery, error: Mapping[str, Any] | None) -> dict[str, Any]:
    """Return what the form shows.

    Parameters
    ----------
    query : LayQuery
        What stands in it.
    error : mapping of str to str or None
        What is wrong with it, in the one shape.

    Returns
    -------
    dict of str to object
        For the template.
    """
    entries: list[MeasureEntry] = [measure_entry(name) for name in FIRST]
    more = [
        (name, value)
        for name, value in query.fields.items()
        if name.startswith("m.") and name.removeprefix("m.") not in FIRST
    ]
    return {
        "query": query,
        "shape_fields": SHAPE_FIELDS,
        "shapes": [(shape.name, shape.says) for shape in shapes().values()],
        "groups": GROUPS,
        "seconds": SECONDS,
        "measures": [(one.name, one.says, query.get(f"m.{one.name}")) for one in entries],
        "more_measures": more,
        "error": error,
        "longest_field": LONGEST,
    }


def card_values(view: DeskView) -> dict[str, Any]:
    """Return what the card of a lay shows.

    Parameters
    ----------
    view : DeskView
        The lay.

    Returns
    -------
    dict of str to object
        For the template.
    """
    order = view.order
    unit = tape_unit(order.units)
    shown: dict[str, Any] = {
        "key": view.key,
        "order": order,
        "state": view.state,
        "says": STATES[view.state],
        "turn": view.job.turn if view.job else 0,
        "seconds": f"{view.job.seconds:.0f}" if view.job else "",
        "running": view.state in {"waiting", "running", "stopping"},
        "found": view.found,
        "width": f"{tape(order.width_mm, order.units)} {unit}",
        "why": view.answer.lay.why if view.answer else "",
        "error": view.job.error if view.job else None,
    }
    if view.found:
        shown |= _lengths(view, unit)
        picture = view.picture()
        open_mm = max(order.problem.width_mm, picture.left_mm - picture.right_mm)
        shown["svg"] = strip_svg(picture, SMALL_MM / open_mm, 4.0)
    return shown


def _lengths(view: DeskView, unit: str) -> dict[str, Any]:
    units, answer, buy = view.order.units, view.answer, view.buy
    if answer is None:
        return {}
    lay = answer.lay
    there = view.order.there_mm
    enough = ""
    if there:
        short = lay.length_mm - there
        enough = (
            f"{tape(short, units)} {unit} more than there is: buy it from the same dye lot"
            if short > 0.5
            else f"fits on the {tape(there, units)} {unit} that are there"
        )
    price = buy["price"] if buy else None
    return {
        "lay": f"{tape(lay.length_mm, units)} {unit}",
        "buy": bought_words(buy["buy_mm"], units) if buy and not there else "",
        "best": bought_words(buy["best_buy_mm"], units) if buy and not there else "",
        "spare": f"{answer.spare_percent:.1f}",
        "proved": lay.status == "optimal",
        "price": f"{price['amount']:.2f} {price['currency']}".strip() if price else "",
        "enough": enough,
    }


def bought_words(length_mm: float, units: str) -> str:
    """Return a length as it is asked for at the shop.

    Parameters
    ----------
    length_mm : float
        The length.
    units : str
        ``metric`` or ``imperial``.

    Returns
    -------
    str
        In centimetres, or in yards to the eighth.
    """
    if units == "imperial":
        return f"{tape(length_mm / 36.0, 'imperial')} yd"
    return f"{length_mm / 10.0:.0f} cm"


def strip_svg(picture: LayPicture, scale: float, type_mm: float) -> Markup:
    """Return a lay as a drawing of the page.

    Parameters
    ----------
    picture : LayPicture
        The lay.
    scale : float
        Paper over cloth.
    type_mm : float
        Size of the type.

    Returns
    -------
    Markup
        SVG.
    """
    return Markup(sheet_svg(lay_sheet(picture, scale=scale, type_mm=type_mm), with_square=False))  # noqa: S704  (our own drawing, its texts escaped)


def strip_values(view: DeskView, cut: frozenset[Copy]) -> dict[str, Any]:
    """Return what the page of one lay shows.

    Parameters
    ----------
    view : DeskView
        The lay.
    cut : frozenset of (str, int)
        Pieces that are ticked.

    Returns
    -------
    dict of str to object
        For the template.
    """
    shown = card_values(view)
    if not view.found or view.answer is None:
        return shown
    picture = view.picture()
    units = view.order.units
    copies = [(one.piece.name, one.placement.copy) for one in picture.steps]
    fixed = {piece.name: len(piece.fixed) for piece in view.order.problem.pieces}
    left = lay_offcuts(view.order.problem, view.answer.lay, picture.bought_mm)
    shown |= {
        "svg": strip_svg(picture, LARGE_MM / (picture.left_mm - picture.right_mm), 4.6),
        "notes": notes_of(picture),
        "unit": tape_unit(units),
        "steps": [
            {
                "number": number,
                "name": name,
                "how": how,
                "value": f"{piece} {copy + 1}",
                "section": step.section,
                "cut": (piece, copy) in cut,
                "pinned": copy < fixed.get(piece, 0),
            }
            for (number, name, how), (piece, copy), step in zip(
                steps_of(picture), copies, picture.steps, strict=True
            )
        ],
        "sections": max(step.section for step in picture.steps),
        "left": [
            f"{one.pieces} of {tape(one.outline_mm[2][0], units)} x"
            f" {tape(one.outline_mm[2][1], units)} {tape_unit(units)}"
            for one in left
        ],
    }
    return shown
