"""My iron, as the page asks for it: three temperatures and two choices, or its whole file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from samite.kernel.errors import InputError
from samite.services.iron import DOT_WORDS, iron_from_fields, load_iron
from samite.tables.irons import Iron

SOLES = {f"{key}_c": words for key, words in DOT_WORDS.items()}
"""Fields of the sole's temperature, and the words beside them."""

STEAMS = {
    "": "not known",
    **{key: f"from {words}" for key, words in DOT_WORDS.items()},
    "never": "it never steams",
}
"""What may be chosen for the steam."""

FIELDS = (*SOLES, "steams", "no_clapper", "iron")
"""Names in the address."""

BESIDE = "my iron"
"""How the place of an error begins that belongs beside these fields."""


@dataclass(frozen=True, slots=True)
class IronView:
    """The fields as they stand.

    Parameters
    ----------
    soles : tuple of (str, str, str, bool)
        Name, words, what was typed, and whether it is wrong.
    steams : tuple of (str, str, bool)
        Each choice with its words, and whether it is taken.
    no_clapper : bool
        Whether there is no clapper.
    file : str
        The file as pasted.
    in_use : bool
        Whether anything was said.
    """

    soles: tuple[tuple[str, str, str, bool], ...]
    steams: tuple[tuple[str, str, bool], ...]
    no_clapper: bool
    file: str
    in_use: bool


def typed_fields(query: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """Return the fields of the iron that hold anything.

    Parameters
    ----------
    query : mapping of str to str
        The address's query.

    Returns
    -------
    tuple of (str, str)
        Name and text, in the order of the page.
    """
    return tuple((name, query[name]) for name in FIELDS if query.get(name, "").strip())


def iron_of(typed: tuple[tuple[str, str], ...]) -> Iron | None:
    """Return the iron that the fields describe.

    Parameters
    ----------
    typed : tuple of (str, str)
        From `typed_fields`.

    Returns
    -------
    Iron or None
        None if nothing was said.

    Raises
    ------
    InputError
        If they say what cannot be; its place begins with "my iron".
    """
    if not typed:
        return None
    said = dict(typed)
    try:
        if "iron" in said:
            return _from_file(said)
        soles = {name.removesuffix("_c"): said[name] for name in SOLES if name in said}
        steams = said.get("steams", "")
        if steams not in STEAMS:
            raise InputError(f"{steams[:40]!r} is no choice", "steams from", "choose from the list")
        return iron_from_fields(soles, steams, clapper="no_clapper" not in said)
    except InputError as error:
        raise InputError(error.message, f"{BESIDE}: {error.where}", error.hint) from None


def _from_file(said: Mapping[str, str]) -> Iron:
    if len(said) > 1:
        raise InputError(
            "the iron's file and fields are both given", "file", "clear the file or the fields"
        )
    return load_iron(said["iron"])


def iron_view(typed: tuple[tuple[str, str], ...], where: str = "") -> IronView:
    """Return the fields with what was typed.

    Parameters
    ----------
    typed : tuple of (str, str)
        From `typed_fields`.
    where : str
        Place of the error; empty if there is none.

    Returns
    -------
    IronView
        For the form.
    """
    said = dict(typed)
    wrong = where if where.startswith(BESIDE) else ""
    return IronView(
        soles=tuple(
            (name, words, said.get(name, ""), words in wrong) for name, words in SOLES.items()
        ),
        steams=tuple((key, words, key == said.get("steams", "")) for key, words in STEAMS.items()),
        no_clapper="no_clapper" in said,
        file=said.get("iron", ""),
        in_use=bool(said),
    )
