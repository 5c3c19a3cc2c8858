"""Which fields the sections of a costume job have."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from samite.garment.body import GROUPS
from samite.kernel.errors import SamiteError, UnknownNameError
from samite.pieces.measures import estimate
from samite.pieces.shapes.registry import every_shape
from samite.project.model import WEEKDAYS, Costume, JobPiece, Person, Project
from samite.services.job_notions import priced_notions
from samite.services.piece_ask import PieceAsk
from samite.services.piece_read import read_body
from samite.tables.bodies import measure_entries, measure_entry
from samite.tables.sewing import sewing_entries
from samite.web.job_form import Field, Sheet

UNITS = ("metric", "imperial")
EXTRAS = (("fastening", "Fastening"), ("trim", "Trim"), ("notion", "Notion"))
NOTIONS = (
    *("elastic", "twill tape", "stay tape", "grosgrain", "boning", "boning channel", "cord"),
    *("bias binding", "padding", "tissue paper"),
)


def head_sheets(project: Project) -> list[Sheet]:
    """Return the forms of the days, the money and the hours.

    Parameters
    ----------
    project : Project
        The job.

    Returns
    -------
    list of Sheet
        Not yet filled.
    """
    day = (
        Field("title", "Called"),
        Field("begin", "Work begins", hint="2031-01-06"),
        Field("due", "Due", hint="2031-02-02"),
        Field("units", "Units", choices=UNITS, empty="metric"),
        Field("spares", "Spares for a run", hint="10 %"),
        Field("stock", "Deduct what is kept in stock", choices=("yes", "no"), empty="yes"),
    )
    money = (
        Field("currency", "Currency", hint="EUR"),
        Field("budget", "Budget"),
        Field("tax", "Tax on top of prices", hint="20 %"),
        Field("rate", "An hour of work"),
        Field("deposit", "Paid in advance", hint="30 %"),
        Field("thread", "A spool of thread"),
        Field("needle", "A needle"),
    )
    prices = tuple(Field(f"prices/{name}", name.capitalize()) for name in priced_notions())
    had = tuple(
        Field(name, name.capitalize(), hint="10" if name == "bobbin" else "5 m")
        for name in priced_notions()
    )
    hours = (
        *(Field(name, name.capitalize(), hint="19:00-21:30") for name in WEEKDAYS),
        Field("closed", "Days without work; part them by ;", hint="2031-01-18"),
        *(
            Field(f"fittings/{one.name}", f"Fitting: {one.name}", hint="2031-01-19")
            for one in project.costumes
        ),
    )
    return [
        Sheet((), "Job", day, level=2, removable=False),
        Sheet(
            ("money",), "Money", money, prices, level=2, removable=False,
            more_says="Prices of notions, of a metre or of one",
        ),
        Sheet(("have",), "Notions on hand", had, level=2, removable=False),
        Sheet(("hours",), "Hours", hours, level=2, removable=False),
    ]  # fmt: skip


def person_sheet(person: Person) -> Sheet:
    """Return the form of a person: what is known, what their shapes want, then all other measures.

    Parameters
    ----------
    person : Person
        The person.

    Returns
    -------
    Sheet
        Not yet filled.
    """
    written = tuple(
        Field(f"measures/{name}", name.replace("_", " "), hint=text)
        for name, text in person.measures.items()
    )
    missing = tuple(_measures_not_given(person))
    return Sheet(
        ("person", person.name), person.name, (*_person_fields(), *written), missing,
        more_says=f"{len(missing)} measures that are not given: what is empty is estimated",
    )  # fmt: skip


def _person_fields() -> tuple[Field, ...]:
    return (
        Field("group", "Like", choices=tuple(GROUPS), empty=GROUPS[0]),
        Field("age", "Age of a child"),
        Field("size", "Size to start from"),
        Field("kept", "Body that is kept"),
    )


def _measures_not_given(person: Person) -> Iterable[Field]:
    given = {_canonical(name) for name in person.measures}
    try:
        body = read_body(
            PieceAsk(
                "", measures=person.measures, group=person.group, age=person.age, size=person.size
            )
        )
    except SamiteError:
        body = None
    for name, entry in measure_entries().items():
        if name in given:
            continue
        hint = ""
        try:
            if body is not None:
                hint = f"about {estimate(body, name).value_mm / 10:.0f} cm"
        except SamiteError:
            hint = ""
        yield Field(f"measures/{name}", entry.says, hint=hint)


def _canonical(name: str) -> str:
    try:
        return measure_entry(name.partition(".")[0]).name
    except UnknownNameError:
        return name


def cloth_sheet(name: str) -> Sheet:
    """Return the form of a cloth.

    Parameters
    ----------
    name : str
        Name of the cloth.

    Returns
    -------
    Sheet
        Not yet filled.
    """
    fields = (
        Field("label", "What the bolt says"),
        Field("price", "Price", hint="9.90/m or 9.99/yd"),
        Field("widths", "Widths in the shop; part them by ;", hint="112 cm; 140 cm"),
        Field("on_hand", "On hand", hint="60 cm"),
        Field("increment", "The shop cuts by", hint="10 cm"),
        Field("shrink", "Shrinkage, along; across", hint="4 %; 2 %"),
        Field("colour", "Colour, for the thread"),
    )
    return Sheet(("cloth", name), name, fields)


def costume_sheets(project: Project, costume: Costume) -> list[Sheet]:
    """Return the forms of a costume: itself, its pieces, joins, fastenings, trims and notions.

    Parameters
    ----------
    project : Project
        The job.
    costume : Costume
        The costume.

    Returns
    -------
    list of Sheet
        Not yet filled; after each kind one that begins another.
    """
    here = ("costume", costume.name)
    cloths = tuple(cloth.name for cloth in project.cloths)
    people = tuple(person.name for person in project.people)
    own = (
        Field("person", "For", choices=people, empty="choose"),
        Field("for", "It has to bear", hint="lined, one night"),
        Field("candidates", "Cloths to compare; part them by ;", hint="; ".join(cloths[:2])),
        Field("copies", "How many", hint="1"),
        Field("test", "Test garment", choices=("none", "all", *cloths), empty="of fitted shapes"),
    )
    sheets = [Sheet(here, costume.name, own)]
    sheets += [piece_sheet(costume.name, job, cloths) for job in costume.pieces]
    begun = _piece_fields(cloths)[:3]
    sheets.append(
        Sheet((*here, "piece"), f"One more piece of {costume.name}", begun, level=4, new=True)
    )
    sheets += [_join_sheet(costume, one.name) for one in costume.joins]
    joined = _join_fields(costume)
    sheets.append(Sheet((*here, "join"), "One more seam between pieces", joined, level=4, new=True))
    for kind, says in EXTRAS:
        held = getattr(costume, f"{kind}s")
        sheets += [
            Sheet((*here, kind, one.name), f"{says} {one.name}", _extra_fields(kind), level=4)
            for one in held
        ]
        sheets.append(
            Sheet((*here, kind), f"One more {kind}", _extra_fields(kind), level=4, new=True)
        )
    return sheets


def piece_sheet(costume: str, job: JobPiece, cloths: tuple[str, ...]) -> Sheet:
    """Return the form of a piece, with every parameter of its shape.

    Parameters
    ----------
    costume : str
        Name of the costume.
    job : JobPiece
        The piece.
    cloths : tuple of str
        Cloths of the job.

    Returns
    -------
    Sheet
        Not yet filled.
    """
    shape = every_shape().get(job.shape)
    parameters = shape.parameters if shape else ()
    known = {one.name for one in parameters}
    setting = tuple(
        Field(f"set/{one.name}", one.says, hint=one.told_default(), choices=one.choices,
              empty=one.told_default() if one.choices else "")
        for one in parameters
    )  # fmt: skip
    other = tuple(
        Field(f"set/{name}", name.replace("_", " ")) for name in job.settings if name not in known
    )
    edges = tuple(dict.fromkeys((*job.seams, *job.allowances, "seam", "hem", "waist", "neck")))
    more = (
        *setting, *other,
        *(Field(f"seams/{edge}", f"Sewn as: {edge}", hint="plain, French") for edge in edges),
        *(Field(f"allowances/{edge}", f"Allowance: {edge}", hint="15 mm") for edge in edges),
        Field("facings", "Edges with a facing; part them by ;"),
        Field("crosswise", "May be cut across; part them by ;"),
        Field("joined", "May be joined from two; part them by ;", hint=f"{job.name}@0.5"),
    )  # fmt: skip
    path = ("costume", costume, "piece", job.name)
    return Sheet(
        path, f"Piece {job.name}", _piece_fields(cloths), more, level=4,
        more_says="Measures, seams and allowances of the shape",
    )  # fmt: skip


def _piece_fields(cloths: tuple[str, ...]) -> tuple[Field, ...]:
    return (
        Field("shape", "Shape", choices=tuple(every_shape()), empty="choose"),
        Field("cloth", "Cloth", choices=cloths, empty="choose"),
        Field("lining", "Lining", choices=cloths, empty="none"),
        Field("interfacing", "Interfacing", choices=cloths, empty="none"),
        Field("copies", "How many", hint="1"),
        Field("fittings", "Pinned at fittings; part them by ;", hint="hem up 20 mm at the left"),
    )


def _join_sheet(costume: Costume, name: str) -> Sheet:
    path = ("costume", costume.name, "join", name)
    return Sheet(path, f"Seam {name}", _join_fields(costume, name), level=4)


def _join_fields(costume: Costume, name: str = "") -> tuple[Field, ...]:
    pieces = [job.name for job in costume.pieces]
    first = f"{pieces[0]}.waist" if pieces else "skirt.waist"
    second = f"{pieces[-1]}.bottom" if pieces else "band.bottom"
    others = "; ".join(one.name for one in costume.joins if one.name != name)
    return (
        Field("first", "One edge: piece.edge", hint=first),
        Field("second", "The other: piece.edge", hint=second),
        Field("after", "Sewn after; part them by ;", hint=others),
    )


def _extra_fields(kind: str) -> tuple[Field, ...]:
    if kind == "fastening":
        kinds = tuple(sewing_entries("fastening"))
    else:
        kinds = NOTIONS if kind == "notion" else ()
    return (
        Field("kind", "What", choices=kinds, empty="choose" if kinds else ""),
        Field("count", "How many", hint="1"),
        Field("length", "or how long", hint="30 cm"),
        Field("price", "Price of one, or of a metre"),
        Field("at", "Where", hint="piece.edge, or in words"),
    )


def new_sheets(project: Project) -> Mapping[str, Sheet]:
    """Return the forms that begin a person, a cloth and a costume.

    Parameters
    ----------
    project : Project
        The job.

    Returns
    -------
    mapping of str to Sheet
        By the section that they stand in.
    """
    people = tuple(person.name for person in project.people)
    stature = Field("measures/stature", "height", hint="168 cm")
    return {
        "person": Sheet(
            ("person",), "One more person", (*_person_fields(), stature), new=True
        ),
        "cloth": Sheet(("cloth",), "One more cloth", cloth_sheet("").fields, new=True),
        "costume": Sheet(
            ("costume",), "One more costume",
            (Field("person", "For", choices=people, empty="choose"),
             Field("for", "It has to bear", hint="lined, one night")),
            new=True,
        ),
    }  # fmt: skip


def workroom_values(document: Mapping[str, Any]) -> dict[str, Any]:
    """Return the machines, feet, needles and threads on hand as their form shows them.

    Parameters
    ----------
    document : mapping of str to object
        What stands in the file.

    Returns
    -------
    dict of str to object
        ``machines`` and ``feet`` with key, name and whether they are there; ``needles`` and
        ``threads`` as written.
    """
    room = document.get("workroom")
    room = room if isinstance(room, Mapping) else {}
    kinds = [one.get("kind") for one in _dicts(room, "machine")]
    feet = room.get("feet")
    return {
        "machines": _ticks("machine", kinds),
        "feet": _ticks("foot", feet if isinstance(feet, list) else []),
        "needles": "; ".join(
            f"{one.get('point', '')} {one.get('size_nm', '')}" for one in _dicts(room, "needle")
        ),
        "threads": "; ".join(_thread_text(one) for one in _dicts(room, "thread")),
        "points": list(sewing_entries("point")),
        "thread_kinds": list(sewing_entries("thread")),
        "stated": bool(room),
    }


def _thread_text(one: Mapping[str, Any]) -> str:
    fineness = f"ticket {one['ticket']}" if "ticket" in one else f"tex {one.get('tex', '')}"
    return f"{one.get('kind', '')} {fineness}"


def _dicts(room: Mapping[str, Any], key: str) -> list[Mapping[str, Any]]:
    found = room.get(key)
    return [one for one in found if isinstance(one, Mapping)] if isinstance(found, list) else []


def _ticks(table: str, there: Iterable[Any]) -> list[dict[str, Any]]:
    held = set(map(str, there))
    return [
        {"key": key, "name": entry.word("name"), "there": key in held}
        for key, entry in sewing_entries(table).items()
    ]
