"""Machines, feet, needles and threads on hand, changed in a job's file."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import tomlkit

from samite.kernel.errors import InputError
from samite.services.job_edit import parse_job


def set_workroom(
    text: str, *, machines: Sequence[str], feet: Sequence[str], needles: str, threads: str
) -> str:
    """Return the file with the workroom set; what is said of a machine that stays is kept.

    Parameters
    ----------
    text : str
        The file.
    machines : sequence of str
        Kinds of machine that are there.
    feet : sequence of str
        Feet that are there.
    needles : str
        Needles, ``"stretch 75; universal 80"``.
    threads : str
        Threads, ``"polyester-spun tex 27; cotton ticket 50"``.

    Returns
    -------
    str
        The file; without a workroom if nothing is named, so that the usual one is assumed.

    Raises
    ------
    InputError
        If the file is no TOML, or a needle or thread cannot be read.
    """
    document = parse_job(text)
    before = document.get("workroom", {})
    room = tomlkit.table()
    if feet:
        room["feet"] = list(feet)
    said = {str(one.get("kind")): one for one in before.get("machine", [])}
    _add(room, "machine", (said.get(kind, {"kind": kind}) for kind in machines))
    _add(room, "needle", (_needle(part) for part in _parts(needles)))
    _add(room, "thread", (_thread(part) for part in _parts(threads)))
    if not room:
        document.pop("workroom", None)
    elif room.unwrap() != dict(before):
        document["workroom"] = room
    return tomlkit.dumps(document)


def _parts(text: str) -> list[str]:
    return [part.strip() for part in text.split(";") if part.strip()]


def _add(room: Any, key: str, tables: Iterable[Mapping[str, Any]]) -> None:
    held = tomlkit.aot()
    for values in tables:
        table = tomlkit.table()
        for name, value in values.items():
            table[name] = value
        held.append(table)
    if len(held):
        room[key] = held


def _needle(text: str) -> dict[str, Any]:
    point, _, size = text.rpartition(" ")
    if not point or not size.isdecimal():
        raise InputError(f"{text[:40]!r} is no needle", "needles", "write stretch 75; universal 80")
    return {"point": point.strip(), "size_nm": int(size)}


def _thread(text: str) -> dict[str, Any]:
    words = text.split()
    number = words[-1].replace(",", ".") if words else ""
    if len(words) < 3 or words[-2] not in ("tex", "ticket") or not _is_number(number):
        raise InputError(
            f"{text[:40]!r} is no thread",
            "threads",
            "write polyester-spun tex 27; cotton ticket 50",
        )
    return {"kind": " ".join(words[:-2]), words[-2]: float(number)}


def _is_number(text: str) -> bool:
    return text.replace(".", "", 1).isdecimal()
