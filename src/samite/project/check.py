"""What is wrong with a job before anything is computed: names, order, measures, dates."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from types import MappingProxyType

from samite.kernel.errors import SamiteError, UnknownNameError
from samite.kernel.units import parse_quantity
from samite.pieces.shapes.registry import shape_named
from samite.project.model import Costume, JobPiece, Person, Project
from samite.project.order import find_circle
from samite.tables.bodies import measure_entry
from samite.tables.close_names import suggest

Path = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong with a job.

    Parameters
    ----------
    path : tuple of str
        Where it stands: sections and key, as in the file.
    what : str
        What is wrong, in plain words.
    mend : str
        How to mend it.
    """

    path: Path
    what: str
    mend: str


def check_project(project: Project, today: date) -> tuple[Fault, ...]:
    """Return everything that is wrong with a job.

    Parameters
    ----------
    project : Project
        The job.
    today : date
        Today.

    Returns
    -------
    tuple of Fault
        In the order of the file; empty if nothing is.

    Notes
    -----
    Whether the cloths, pieces and seams can be made is only found when they are computed.
    """
    return (
        *_dates(project, today),
        *(fault for person in project.people for fault in _measures(person)),
        *_fittings(project),
        *(fault for costume in project.costumes for fault in _costume(project, costume)),
    )


def _dates(project: Project, today: date) -> Iterator[Fault]:
    if project.due and project.due < today:
        yield Fault(
            ("due",), f"it was due on {project.due:%d %B %Y}, which is past", "set a later day"
        )
    if project.begin and project.due and project.begin > project.due:
        yield Fault(("begin",), "work begins after it is due", "begin earlier, or move the day due")
    for name, day in project.hours.fittings.items():
        path = ("hours", "fittings", name)
        if project.due and day > project.due:
            yield Fault(path, "the fitting is after the day due", "set an earlier day")
        elif day < today:
            yield Fault(path, "the fitting is in the past", "set a later day")


def usable_person(person: Person) -> Person:
    """Return a person without the measures that are wrong, so that those are estimated instead.

    Parameters
    ----------
    person : Person
        The person.

    Returns
    -------
    Person
        The same if nothing is wrong.
    """
    wrong = {fault.path[-1] for fault in _measures(person)}
    if not wrong:
        return person
    kept = {name: text for name, text in person.measures.items() if name not in wrong}
    return replace(person, measures=MappingProxyType(kept))


def _measures(person: Person) -> Iterator[Fault]:
    """Yield every measure of a body that is not known, cannot be read or is impossible."""
    for written, text in person.measures.items():
        path = ("person", person.name, "measures", written)
        base, _, side = written.partition(".")
        try:
            entry = measure_entry(base)
            value = _tape_mm(text)
        except SamiteError as error:
            yield Fault(path, error.message, error.hint)
            continue
        low, high = (entry.min_mm, entry.max_mm) if not side else (1.0, entry.max_mm)
        if not low <= value <= high:
            told = f"{entry.says} of {value / 10:g} cm is impossible"
            yield Fault(path, told, f"{low / 10:g} to {high / 10:g} cm; mind the unit")


def _tape_mm(text: str) -> float:
    """Read a length; a bare number is in centimetres, as tapes are."""
    try:
        return float(text.strip().replace(",", ".")) * 10.0
    except ValueError:
        return parse_quantity(text, "mm")


def _fittings(project: Project) -> Iterator[Fault]:
    names = [costume.name for costume in project.costumes]
    for name in project.hours.fittings:
        if name not in names:
            yield _unknown(("hours", "fittings", name), "costume", name, names)


def _costume(project: Project, costume: Costume) -> Iterator[Fault]:
    here = ("costume", costume.name)
    people = [person.name for person in project.people]
    if not costume.person:
        yield Fault((*here, "person"), f"who wears {costume.name}?", 'write person = "..."')
    elif costume.person not in people:
        yield _unknown((*here, "person"), "person", costume.person, people)
    if not costume.pieces:
        yield Fault(here, f"{costume.name} has no piece", f"write [{'.'.join(here)}.piece.name]")
    cloths = [cloth.name for cloth in project.cloths]
    for name in costume.candidates:
        if name not in cloths:
            yield _unknown((*here, "candidates"), "cloth", name, cloths)
    if costume.test not in ("", "none", "all", *cloths):
        yield _unknown((*here, "test"), "cloth", costume.test, ["none", "all", *cloths])
    for piece in costume.pieces:
        yield from _piece(project, costume, piece, cloths)
    yield from _joins(costume, here)


def _piece(
    project: Project, costume: Costume, piece: JobPiece, cloths: list[str]
) -> Iterator[Fault]:
    here = ("costume", costume.name, "piece", piece.name)
    if not piece.cloth:
        yield Fault(here, f"{piece.name} has no cloth", 'write cloth = "..."')
    for role, name in piece.cloths:
        key = "cloth" if role == "shell" else role
        if name not in cloths:
            yield _unknown((*here, key), "cloth", name, cloths)
    if not piece.shape:
        return
    try:
        shape = shape_named(piece.shape)
    except UnknownNameError as error:
        yield Fault((*here, "shape"), error.message, error.hint)
        return
    known = [parameter.name for parameter in shape.parameters]
    for name in piece.settings:
        if name.replace("-", "_").removesuffix("_mm") not in known:
            yield _unknown((*here, "set", name), f"parameter of {shape.name}", name, known)
    person = project.person(costume.person)
    nothing = person and not (person.measures or person.size or person.kept or person.age)
    if person and nothing and shape.measures():
        yield Fault(
            ("person", person.name),
            f"nothing is known of {person.name}: {piece.name} needs {', '.join(shape.measures())}",
            'write measures = { stature = "168 cm" }; the rest is estimated, and marked so',
        )


def _joins(costume: Costume, here: Path) -> Iterator[Fault]:
    pieces = [piece.name for piece in costume.pieces]
    names = [join.name for join in costume.joins]
    for join in costume.joins:
        for key, (piece, _) in (("first", join.first), ("second", join.second)):
            if piece and piece not in pieces:
                yield _unknown((*here, "join", join.name, key), "piece", piece, pieces)
        for name in join.after:
            if name not in names:
                yield _unknown((*here, "join", join.name, "after"), "join", name, names)
    circle = find_circle({join.name: join.after for join in costume.joins})
    if circle:
        yield Fault(
            (*here, "join", circle[0], "after"),
            f"the construction goes round in a circle: {' after '.join(circle)}",
            "take one of these out of its after list",
        )


def _unknown(path: Path, what: str, name: str, names: list[str]) -> Fault:
    close = suggest(name, names)
    listed = f"one of {', '.join(names)}" if names else f"there is no {what} yet"
    mend = f"did you mean {' or '.join(close)}?" if close else listed
    return Fault(path, f"there is no {what} {name[:60]!r}", mend)
