"""The forms of a costume job: every section of its file as fields, each beside what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from samite.readers.problem import Problem
from samite.services.job_edit import shown

Path = tuple[str, ...]
COLUMNS_OF_TEXT = ("label", "for", "fittings", "at", "needles", "threads")


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a form.

    Parameters
    ----------
    name : str
        Key below the section, parts parted by ``/``.
    says : str
        What it is, beside the field.
    value : str
        What stands in the file, or was typed.
    hint : str
        An example, or what is taken where it is empty.
    choices : tuple of str
        Words to choose from; empty for a field to write in.
    empty : str
        Word for no choice.
    problem : str
        What is wrong with it and how to mend it; empty if nothing is.
    line : int
        Its line in the file, where something is wrong.
    """

    name: str
    says: str
    value: str = ""
    hint: str = ""
    choices: tuple[str, ...] = ()
    empty: str = ""
    problem: str = ""
    line: int = 0

    @property
    def wide(self) -> bool:
        """Whether it takes a row of its own."""
        return self.name in COLUMNS_OF_TEXT


@dataclass(frozen=True, slots=True)
class Sheet:
    """One form: a section of the file.

    Parameters
    ----------
    path : tuple of str
        The section.
    title : str
        Its heading.
    fields : tuple of Field
        Its fields.
    more : tuple of Field
        Fields that are seldom wanted, folded away.
    level : int
        Level of the heading.
    new : bool
        Whether it begins a section instead of changing one.
    removable : bool
        Whether the section can be taken out.
    more_says : str
        Heading of the folded fields.
    problem : str
        What is wrong with the whole of it.
    typed : str
        Name that was typed for a new one.
    """

    path: Path
    title: str
    fields: tuple[Field, ...]
    more: tuple[Field, ...] = ()
    level: int = 3
    new: bool = False
    removable: bool = True
    more_says: str = "More"
    problem: str = ""
    typed: str = ""

    @property
    def section(self) -> str:
        """The section as it is sent."""
        return "/".join(self.path)

    @property
    def id(self) -> str:
        """Anchor on the page."""
        return "-".join((*self.path, "new") if self.new else self.path) or "job"

    @property
    def open(self) -> bool:
        """Whether something is wrong below the fold."""
        return any(one.problem for one in self.more)


@dataclass(frozen=True, slots=True)
class Sent:
    """A form that was refused, so that nothing that was typed is lost.

    Parameters
    ----------
    path : tuple of str
        Its section.
    new : bool
        Whether it was to begin a section.
    values : mapping of str to str
        What was typed.
    name : str
        Name of the new section.
    refused : str
        Why, and how to mend it.
    text : str
        The whole file, where that was sent.
    """

    path: Path
    new: bool
    values: Mapping[str, str]
    name: str = ""
    refused: str = ""
    text: str = ""


def filled(
    sheet: Sheet, document: Mapping[str, Any], problems: Iterable[Problem], sent: Sent | None
) -> Sheet:
    """Fill a form with what stands in the file, what was typed and what is wrong.

    Parameters
    ----------
    sheet : Sheet
        The form.
    document : mapping of str to object
        What stands in the file.
    problems : iterable of Problem
        What is wrong.
    sent : Sent or None
        What was typed into a form that was refused.

    Returns
    -------
    Sheet
        The form.
    """
    wrong = list(problems)
    typed = sent.values if sent and (sent.path, sent.new) == (sheet.path, sheet.new) else {}

    def fill(one: Field) -> Field:
        path = (*sheet.path, *one.name.split("/"))
        value = one.value if sheet.new else shown(document, path)
        found = [] if sheet.new else [p for p in wrong if p.where == ".".join(path)]
        told = "; ".join(f"{p.what}: {p.mend}" for p in found)
        line = found[0].line if found else 0
        return replace(one, value=typed.get(one.name, value), problem=told, line=line)

    own = [] if sheet.new else [p for p in wrong if p.where == ".".join(sheet.path) and sheet.path]
    told = "; ".join(f"{p.what}: {p.mend}" for p in own)
    if typed and sent:
        told = sent.refused
    return replace(
        sheet,
        fields=tuple(fill(one) for one in sheet.fields),
        more=tuple(fill(one) for one in sheet.more),
        problem=told,
        typed=sent.name if typed and sent else "",
    )


def unplaced(sheets: Sequence[Sheet], problems: Iterable[Problem]) -> list[Problem]:
    """Return what is wrong and stands beside no field.

    Parameters
    ----------
    sheets : sequence of Sheet
        All forms.
    problems : iterable of Problem
        What is wrong.

    Returns
    -------
    list of Problem
        In the order of the file.
    """
    places = {".".join(sheet.path) for sheet in sheets if sheet.path}
    for sheet in sheets:
        for one in (*sheet.fields, *sheet.more):
            places.add(".".join((*sheet.path, *one.name.split("/"))))
    return [one for one in problems if one.where not in places]
