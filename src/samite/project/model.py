"""A costume job as it was written down: people, cloths, costumes, dates and money."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, time
from types import MappingProxyType

from samite.garment.stock import NeedlePacket, Remnant, ThreadSpool
from samite.garment.workroom import Workroom, usual_workroom

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")

JOB_ROLES = ("shell", "lining", "interfacing")
"""What a cloth can be in a piece."""


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody that a costume is made for.

    Parameters
    ----------
    name : str
        Name in the file.
    measures : mapping of str to str
        Body measures as written.
    group : str
        Whose statistics fill in what was not measured.
    age : str
        Age of a child; empty otherwise.
    size : str
        A size to start from; empty for none.
    kept : str
        Name of a body in the store that is taken instead; empty for none.
    """

    name: str
    measures: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    group: str = "adult"
    age: str = ""
    size: str = ""
    kept: str = ""


@dataclass(frozen=True, slots=True)
class JobCloth:
    """A cloth that is bought, or at hand, for the job.

    Parameters
    ----------
    name : str
        Name in the file.
    label : str
        What the bolt says.
    price_per_m : float or None
        Price of a metre; None if nobody said [currency].
    widths_mm : tuple of float
        Widths on offer; the label's own if empty [mm].
    on_hand_mm : float
        Length that is there already [mm].
    increment_mm : float
        What the shop cuts by [mm].
    shrink : str
        Shrinkage along and across, ``"4 %; 2 %"``; empty to take the cloth's own.
    colour : str
        In words, for the thread to match; may be empty.
    """

    name: str
    label: str
    price_per_m: float | None = None
    widths_mm: tuple[float, ...] = ()
    on_hand_mm: float = 0.0
    increment_mm: float = 100.0
    shrink: str = ""
    colour: str = ""


@dataclass(frozen=True, slots=True)
class JobPiece:
    """One shape of a costume, with the cloths it is cut from.

    Parameters
    ----------
    name : str
        Name in the file, unique in its costume.
    shape : str
        Name of the shape.
    cloth : str
        Name of its cloth.
    lining : str
        Name of the cloth that lines it; empty for none.
    interfacing : str
        Name of the cloth that stiffens it; empty for none.
    settings : mapping of str to str
        Parameters of the shape as written.
    seams : mapping of str to str
        Seam by kind or name of an edge.
    allowances : mapping of str to str
        Allowance by kind or name of an edge, as written.
    facings : tuple of str
        Edges that are faced.
    fittings : tuple of str
        What was pinned at fittings, oldest first.
    crosswise : tuple of str
        Pieces that may be cut across the cloth.
    joined : tuple of str
        Pieces that may be joined from two, with ``@0.4`` for where.
    copies : int
        How many of all its pieces [1].
    """

    name: str
    shape: str
    cloth: str
    lining: str = ""
    interfacing: str = ""
    settings: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    seams: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    allowances: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    facings: tuple[str, ...] = ()
    fittings: tuple[str, ...] = ()
    crosswise: tuple[str, ...] = ()
    joined: tuple[str, ...] = ()
    copies: int = 1

    @property
    def cloths(self) -> tuple[tuple[str, str], ...]:
        """Role and name of every cloth it is cut from."""
        named = zip(JOB_ROLES, (self.cloth, self.lining, self.interfacing), strict=True)
        return tuple((role, name) for role, name in named if name)


@dataclass(frozen=True, slots=True)
class Join:
    """Two edges of different shapes that are sewn together.

    Parameters
    ----------
    name : str
        Name in the file, unique in its costume.
    first : tuple of (str, str)
        Name of a piece of the costume, and of its edge.
    second : tuple of (str, str)
        The other.
    after : tuple of str
        Joins that come before it.
    """

    name: str
    first: tuple[str, str]
    second: tuple[str, str]
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Extra:
    """A trim, a fastening or a notion.

    Parameters
    ----------
    name : str
        Name in the file, unique in its costume.
    kind : str
        What it is: a key of ``fastenings.csv`` for a fastening, plain words for the others.
    amount : float
        How many, or how long [count or mm].
    unit : str
        ``each`` or ``mm``.
    price : float or None
        Price of one, or of a metre; None if nobody said [currency].
    at : str
        Where, in words or as ``piece.edge``.
    """

    name: str
    kind: str
    amount: float = 1.0
    unit: str = "each"
    price: float | None = None
    at: str = ""


@dataclass(frozen=True, slots=True)
class Costume:
    """One costume.

    Parameters
    ----------
    name : str
        Name in the file.
    person : str
        Name of who wears it.
    wear : str
        What it has to bear, as a bench card takes it.
    pieces : tuple of JobPiece
        Its pieces.
    joins : tuple of Join
        Seams between different pieces.
    trims : tuple of Extra
        What is sewn on.
    fastenings : tuple of Extra
        How it closes.
    notions : tuple of Extra
        What holds and shapes it: elastic, tape, bones.
    candidates : tuple of str
        Cloths that could take the place of its first shell cloth.
    copies : int
        How many of it are made [1].
    test : str
        Test garment: empty for fitted shapes alone, else ``none``, ``all`` or a cloth of the job.
    """

    name: str
    person: str
    wear: str = ""
    pieces: tuple[JobPiece, ...] = ()
    joins: tuple[Join, ...] = ()
    trims: tuple[Extra, ...] = ()
    fastenings: tuple[Extra, ...] = ()
    notions: tuple[Extra, ...] = ()
    candidates: tuple[str, ...] = ()
    copies: int = 1
    test: str = ""


@dataclass(frozen=True, slots=True)
class Hours:
    """When the person can work.

    Parameters
    ----------
    sessions : mapping of str to tuple of (time, time)
        Begin and end of the session on a weekday.
    closed : tuple of date
        Days without one.
    fittings : mapping of str to date
        Day of the fitting of a costume.
    """

    sessions: Mapping[str, tuple[time, time]] = field(default_factory=lambda: MappingProxyType({}))
    closed: tuple[date, ...] = ()
    fittings: Mapping[str, date] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True, slots=True)
class Purse:
    """Money of the job.

    Parameters
    ----------
    currency : str
        Its sign or code, as it is printed.
    budget : float or None
        What may be spent on cloth and notions [currency].
    tax_percent : float
        Tax that comes on top of the prices; 0 if they hold it [%].
    hourly_rate : float or None
        What an hour of work costs the customer [currency].
    deposit_percent : float
        What is paid in advance [%].
    spool_price : float or None
        Price of a spool of thread [currency].
    needle_price : float or None
        Price of a needle [currency].
    prices : mapping of str to float
        Prices of notions, of a metre or of one, by their name on the list [currency].
    """

    currency: str = "EUR"
    budget: float | None = None
    tax_percent: float = 0.0
    hourly_rate: float | None = None
    deposit_percent: float = 0.0
    spool_price: float | None = None
    needle_price: float | None = None
    prices: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True, slots=True)
class Drawer:
    """What is kept and could be used up by a job.

    Parameters
    ----------
    remnants : tuple of Remnant
        Cloth.
    threads : tuple of ThreadSpool
        Threads.
    needles : tuple of NeedlePacket
        Needles.
    """

    remnants: tuple[Remnant, ...] = ()
    threads: tuple[ThreadSpool, ...] = ()
    needles: tuple[NeedlePacket, ...] = ()


@dataclass(frozen=True, slots=True)
class Project:
    """One costume job.

    Parameters
    ----------
    title : str
        What it is called.
    due : date or None
        Day on which everything is finished.
    begin : date or None
        First day of work; today if None.
    people : tuple of Person
        Who it is for.
    cloths : tuple of JobCloth
        Cloths.
    costumes : tuple of Costume
        Costumes.
    hours : Hours
        When the person can work.
    purse : Purse
        Money.
    workroom : Workroom
        Machines, feet, needles and threads on hand.
    units : str
        ``metric`` or ``imperial``.
    spares_percent : float
        Of notions, for a run of several [%].
    use_stock : bool
        Whether what is kept is deducted from what is bought.
    drawer : Drawer
        What is kept; nothing where it is not used.
    have : mapping of str to float
        Notions on hand, by their name on the list [m or count].
    """

    title: str
    due: date | None = None
    begin: date | None = None
    people: tuple[Person, ...] = ()
    cloths: tuple[JobCloth, ...] = ()
    costumes: tuple[Costume, ...] = ()
    hours: Hours = field(default_factory=Hours)
    purse: Purse = field(default_factory=Purse)
    workroom: Workroom = field(default_factory=usual_workroom)
    units: str = "metric"
    spares_percent: float = 0.0
    use_stock: bool = True
    drawer: Drawer = field(default_factory=Drawer)
    have: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))

    def cloth(self, name: str) -> JobCloth | None:
        """Return a cloth.

        Parameters
        ----------
        name : str
            Its name.

        Returns
        -------
        JobCloth or None
            None if the job has none of that name.
        """
        return next((one for one in self.cloths if one.name == name), None)

    def person(self, name: str) -> Person | None:
        """Return a person.

        Parameters
        ----------
        name : str
            The name.

        Returns
        -------
        Person or None
            None if the job has none of that name.
        """
        return next((one for one in self.people if one.name == name), None)
