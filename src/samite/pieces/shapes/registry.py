"""All shapes by name: an open list, to which a module adds by its ``SHAPES``."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from samite.kernel.errors import TableError, UnknownNameError
from samite.pieces.shape import Shape
from samite.pieces.shapes import circles, gathered, gores, legs, sleeves, strips, tubes, tunics
from samite.tables.close_names import did_you_mean

MODULES = (circles, tubes, gores, strips, gathered, sleeves, legs, tunics)
"""Modules of shapes in closed form."""


@cache
def shapes() -> Mapping[str, Shape]:
    """Return all shapes.

    Returns
    -------
    mapping of str to Shape
        By name, sorted.

    Raises
    ------
    TableError
        If two shapes share a name.
    """
    found: dict[str, Shape] = {}
    for module in MODULES:
        for shape in module.SHAPES:
            if shape.name in found:
                raise TableError(f"two shapes are called {shape.name}", shape.name, "rename one")
            found[shape.name] = shape
    return MappingProxyType(dict(sorted(found.items())))


@cache
def fitted_shapes() -> Mapping[str, Shape]:
    """Return the shapes that are computed from the body and the cloth.

    Returns
    -------
    mapping of str to Shape
        By name, sorted.
    """
    from samite.pieces.fitted.registry import FITTED

    return MappingProxyType({shape.name: shape for shape in FITTED})


def every_shape() -> Mapping[str, Shape]:
    """Return all shapes, in closed form and fitted.

    Returns
    -------
    mapping of str to Shape
        By name, those in closed form first.
    """
    return MappingProxyType({**shapes(), **fitted_shapes()})


def shape_named(name: str) -> Shape:
    """Return a shape by its name or another word for it.

    Parameters
    ----------
    name : str
        For example ``circle-skirt`` or ``hooded cloak``.

    Returns
    -------
    Shape
        The shape.

    Raises
    ------
    UnknownNameError
        If there is none of that name.
    """
    plain = "-".join(name.strip().casefold().replace("_", "-").split())
    known = every_shape()
    if plain in known:
        return known[plain]
    for shape in known.values():
        if plain in {word.replace(" ", "-") for word in shape.words}:
            return shape
    raise UnknownNameError(
        f"there is no shape {name!r}",
        "SHAPE",
        f"{did_you_mean(plain, known)}; samite piece --list shows all",
    )
