"""Bodies under names that their owners choose: kept, listed, shown, binned, erased."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from samite.garment.kept_body import KeptBody, WrittenMeasure
from samite.kernel.errors import InputError, UnknownNameError
from samite.pieces.measure_doubts import find_doubts
from samite.services.piece_ask import PieceAsk
from samite.services.piece_read import read_body
from samite.store.kinds import BODY, Kept
from samite.store.store import Store

FORMAT = "samite.body.v1"


def keep_body(path: Path, name: str, ask: PieceAsk, on: date) -> tuple[str, ...]:
    """Keep the body of a question under a name; one of the same name is replaced.

    Parameters
    ----------
    path : Path
        File of the store.
    name : str
        The name.
    ask : PieceAsk
        Holds measures, group, age and size.
    on : date
        Today.

    Returns
    -------
    tuple of str
        Measures that do not fit the others, one sentence each.

    Raises
    ------
    SamiteError
        If a measure is malformed or impossible, or the name is.
    """
    doubts = find_doubts(read_body(ask))
    measures = tuple(WrittenMeasure(*item) for item in ask.measures.items())
    body = KeptBody(name.strip(), measures, ask.group, ask.age, ask.size)
    with Store(path) as store:
        there = store.bodies_named(body.name)
        with store.act(f"body {'changed' if there else 'kept'}", on) as changes:
            if there:
                changes.change(BODY, there[0].key, there[0].version, body)
            else:
                changes.add(BODY, body)
    return tuple(doubt.told() for doubt in doubts)


def body_names(path: Path, *, binned: bool = False) -> list[str]:
    """Return the names of all bodies that are kept.

    Parameters
    ----------
    path : Path
        File of the store.
    binned : bool
        Look into the bin instead.

    Returns
    -------
    list of str
        Sorted.
    """
    with Store(path, write=False) as store:
        return sorted(item.value.name for item in store.all(BODY, binned=binned))


def kept_body(path: Path, name: str) -> dict[str, Any]:
    """Return a body that is kept.

    Parameters
    ----------
    path : Path
        File of the store.
    name : str
        Its name.

    Returns
    -------
    dict of str to object
        Format ``samite.body.v1``.
    """
    with Store(path, write=False) as store:
        return _view(_named(store, name))


def bin_body(path: Path, name: str, on: date, *, back: bool = False) -> dict[str, Any]:
    """Put a body into the bin, or take it out.

    Parameters
    ----------
    path : Path
        File of the store.
    name : str
        Its name.
    on : date
        Today.
    back : bool
        Take it out.

    Returns
    -------
    dict of str to object
        Format ``samite.body.v1``.

    Raises
    ------
    InputError
        If another of that name is kept.
    """
    with Store(path) as store:
        kept = _named(store, name, binned=back)
        if back and store.bodies_named(name):
            raise InputError(
                "another body of that name is kept", "body", "put that into the bin first"
            )
        verb = "taken out of the bin" if back else "put into the bin"
        with store.act(f"body {verb}", on) as changes:
            return _view(changes.bin(BODY, kept.key, kept.version, None if back else on))


def erase_body(path: Path, name: str, on: date) -> None:
    """Erase a body for good: from the store, the bin, and what can be undone.

    Parameters
    ----------
    path : Path
        File of the store.
    name : str
        Its name.
    on : date
        Today.
    """
    with Store(path) as store:
        found = [*store.bodies_named(name), *store.bodies_named(name, binned=True)]
        if not found:
            raise _not_there(store, name)
        store.erase(BODY, [item.key for item in found], "body erased", on)


def with_body(ask: PieceAsk, path: Path, name: str) -> PieceAsk:
    """Return a question asked of a body that is kept.

    Parameters
    ----------
    ask : PieceAsk
        The question; measures given in it win.
    path : Path
        File of the store.
    name : str
        Name of the body.

    Returns
    -------
    PieceAsk
        With its measures, group, age and size.
    """
    body = kept_body(path, name)
    return replace(
        ask,
        measures={**body["measures"], **ask.measures},
        group=ask.group if ask.group != "adult" else body["group"],
        age=ask.age or body["age"],
        size=ask.size or body["size"],
    )


def _named(store: Store, name: str, *, binned: bool = False) -> Kept[KeptBody]:
    found = store.bodies_named(name, binned=binned)
    if not found:
        raise _not_there(store, name)
    return found[0]


def _not_there(store: Store, name: str) -> UnknownNameError:
    told = ", ".join(sorted(item.value.name for item in store.all(BODY))) or "none is kept"
    return UnknownNameError(f"no body is kept under {name[:80]!r}", "body", told)


def _view(kept: Kept[KeptBody]) -> dict[str, Any]:
    body = kept.value
    return {
        "format": FORMAT,
        "key": kept.key,
        "version": kept.version,
        "binned_on": kept.binned_on.isoformat() if kept.binned_on else None,
        "name": body.name,
        "measures": {item.name: item.text for item in body.measures},
        "group": body.group,
        "age": body.age,
        "size": body.size,
    }
