"""The costumes of a project file: pieces, joins, trims, fastenings and notions."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from samite.project.model import Costume, Extra, JobPiece, Join
from samite.readers.project_fields import ProjectFields
from samite.readers.toml_text import Path

COSTUME = (
    *("person", "for", "piece", "join", "trim", "fastening", "notion", "candidates", "copies"),
    "test",
)
PIECE = (
    *("shape", "cloth", "lining", "interfacing", "set", "seams", "allowances", "facings"),
    *("fittings", "crosswise", "joined", "copies"),
)
JOIN = ("first", "second", "after")
EXTRA = ("kind", "count", "length", "price", "at")


def read_costume(fields: ProjectFields, name: str, table: Mapping[str, Any]) -> Costume:
    """Read one costume.

    Parameters
    ----------
    fields : ProjectFields
        Keeps what is wrong.
    name : str
        Its name.
    table : mapping of str to object
        Its section.

    Returns
    -------
    Costume
        Without what is wrong.
    """
    here = ("costume", name)
    fields.check_keys(table, here, COSTUME)
    return Costume(
        name,
        fields.text(table, (*here, "person"), ""),
        fields.text(table, (*here, "for"), ""),
        tuple(_piece(fields, path, one) for path, one in _parts(fields, table, here, "piece")),
        tuple(_join(fields, path, one) for path, one in _parts(fields, table, here, "join")),
        tuple(_extra(fields, path, one) for path, one in _parts(fields, table, here, "trim")),
        tuple(_extra(fields, path, one) for path, one in _parts(fields, table, here, "fastening")),
        tuple(_extra(fields, path, one) for path, one in _parts(fields, table, here, "notion")),
        fields.words(table.get("candidates", []), (*here, "candidates")),
        fields.count(table.get("copies", 1), (*here, "copies")),
        fields.text(table, (*here, "test"), ""),
    )


def _parts(
    fields: ProjectFields, table: Mapping[str, Any], here: Path, kind: str
) -> list[tuple[Path, Mapping[str, Any]]]:
    found = table.get(kind, {})
    head = ".".join((*here, kind))
    if not isinstance(found, Mapping):
        fields.wrong((*here, kind), f"{kind} is a section", f"write [{head}.name]")
        return []
    parts = []
    for name, one in found.items():
        if isinstance(one, Mapping):
            parts.append(((*here, kind, name), one))
        else:
            fields.wrong((*here, kind, name), f"{name} is a section", f"write [{head}.{name}]")
    return parts


def _piece(fields: ProjectFields, path: Path, table: Mapping[str, Any]) -> JobPiece:
    fields.check_keys(table, path, PIECE)
    if "shape" not in table:
        fields.wrong((*path, "shape"), "which shape is it?", "samite piece --list names them")

    def tables(key: str) -> Mapping[str, str]:
        return MappingProxyType(fields.written(table.get(key, {}), (*path, key)))

    return JobPiece(
        path[-1],
        fields.text(table, (*path, "shape"), ""),
        fields.text(table, (*path, "cloth"), ""),
        fields.text(table, (*path, "lining"), ""),
        fields.text(table, (*path, "interfacing"), ""),
        tables("set"),
        tables("seams"),
        tables("allowances"),
        fields.words(table.get("facings", []), (*path, "facings")),
        fields.words(table.get("fittings", []), (*path, "fittings")),
        fields.words(table.get("crosswise", []), (*path, "crosswise")),
        fields.words(table.get("joined", []), (*path, "joined")),
        fields.count(table.get("copies", 1), (*path, "copies")),
    )


def _join(fields: ProjectFields, path: Path, table: Mapping[str, Any]) -> Join:
    fields.check_keys(table, path, JOIN)
    return Join(
        path[-1],
        _place(fields, table, (*path, "first")),
        _place(fields, table, (*path, "second")),
        fields.words(table.get("after", []), (*path, "after")),
    )


def _place(fields: ProjectFields, table: Mapping[str, Any], path: Path) -> tuple[str, str]:
    piece, _, edge = fields.text(table, path, "").partition(".")
    if not piece or not edge:
        fields.wrong(path, "it names no edge of a piece", 'write "bodice.waist"')
    return piece.strip(), edge.strip()


def _extra(fields: ProjectFields, path: Path, table: Mapping[str, Any]) -> Extra:
    fields.check_keys(table, path, EXTRA)
    if "count" in table and "length" in table:
        fields.wrong((*path, "length"), "both a count and a length", "leave out one of them")
    length = (
        fields.within(table["length"], (*path, "length"), "mm", (1.0, 1e6))
        if "length" in table
        else None
    )
    count = fields.count(table.get("count", 1), (*path, "count"))
    return Extra(
        path[-1],
        fields.text(table, (*path, "kind"), path[-1]),
        float(count) if length is None else length,
        "each" if length is None else "mm",
        fields.money(table["price"], (*path, "price")) if "price" in table else None,
        fields.text(table, (*path, "at"), ""),
    )
