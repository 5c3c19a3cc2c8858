"""Lays that are done, as documents that outlast a restart: somebody may be cutting from one."""

from __future__ import annotations

import re
from collections.abc import MutableMapping
from dataclasses import fields
from typing import TYPE_CHECKING, Any

from samite.cloth.reading import Price
from samite.readers.lay_file import lay_problem_of
from samite.services.lay import problem_json
from samite.services.lay_buy import Extra

if TYPE_CHECKING:
    from samite.services.lay_desk import Order

KEY = re.compile(r"[0-9a-f]{16}")
"""What a key looks like; nothing else is looked for on the disk."""

PLAIN = (
    "title", "says", "width_mm", "face", "one_way", "cloth", "units", "table_mm", "back", "there_mm",
    "plain",
)  # fmt: skip
"""Fields of an order that stand in the document as they are."""


def keep_lay(
    known: MutableMapping[str, Any],
    key: str,
    order: Order,
    result: dict[str, Any],
    asked: tuple[float, int],
) -> None:
    """Keep a lay that is done, with its question.

    Parameters
    ----------
    known : mutable mapping of str to object
        Where documents lie.
    key : str
        Key of the lay.
    order : Order
        What was asked.
    result : dict of str to object
        The lay, ``samite.lay.v1``.
    asked : tuple of (float, int)
        Time to search [s], and start of the random numbers.
    """
    known[key] = {
        **{name: getattr(order, name) for name in PLAIN},
        "problem": problem_json(order.problem),
        "extra": {
            f.name: getattr(order.extra, f.name) for f in fields(Extra) if f.name != "reasons"
        },
        "price": {f.name: getattr(order.price, f.name) for f in fields(Price)}
        if order.price
        else None,
        "whys": list(order.whys),
        "asked": list(asked),
        "result": result,
    }


def kept_lay(
    known: MutableMapping[str, Any], key: str
) -> tuple[Order, tuple[float, int], dict[str, Any]] | None:
    """Return a lay that was kept.

    Parameters
    ----------
    known : mutable mapping of str to object
        Where documents lie.
    key : str
        Key of the lay.

    Returns
    -------
    tuple of (Order, tuple of (float, int), dict of str to object) or None
        What was asked and the lay; None if there is none, or it cannot be read.

    Notes
    -----
    The reasons of what is bought beyond the lay stand in the order's own sentences.
    """
    from samite.services.lay_desk import Order

    if not KEY.fullmatch(key) or key not in known:
        return None
    document = known[key]
    try:
        seconds, seed = document["asked"]
        order = Order(
            problem=lay_problem_of(document["problem"]),
            extra=Extra(**document["extra"]),
            price=Price(**document["price"]) if document["price"] else None,
            whys=tuple(document["whys"]),
            **{name: document[name] for name in PLAIN if name in document},
        )
    except (KeyError, TypeError, ValueError):
        return None
    return order, (float(seconds), int(seed)), document["result"]
