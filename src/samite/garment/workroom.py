"""The workroom: which machines, feet, needles and threads a person owns."""

from __future__ import annotations

from dataclasses import dataclass

from samite.tables.sewing import sewing_entries, sewing_entry


@dataclass(frozen=True, slots=True)
class Machine:
    """A sewing machine, or the needle in the hand.

    Parameters
    ----------
    kind : str
        Key in ``machines.csv``.
    stitches : tuple of str
        ISO 4915 numbers of what it makes.
    foot_lift_mm : float
        Room under the raised foot [mm].
    stitch_width_mm : float
        Widest stitch [mm].
    stitch_length_mm : float
        Longest stitch [mm].
    """

    kind: str
    stitches: tuple[str, ...]
    foot_lift_mm: float
    stitch_width_mm: float
    stitch_length_mm: float

    @property
    def name(self) -> str:
        """What the trade calls it."""
        return sewing_entry("machine", self.kind).word("name")


@dataclass(frozen=True, slots=True)
class OwnedNeedle:
    """A needle on hand.

    Parameters
    ----------
    point : str
        Kind of point in plain words.
    size_nm : int
        Blade diameter in 1/100 mm [needle Nm].
    """

    point: str
    size_nm: int


@dataclass(frozen=True, slots=True)
class OwnedThread:
    """A thread on hand.

    Parameters
    ----------
    kind : str
        Key in ``threads.csv``.
    linear_density_tex : float
        Its fineness [tex].
    """

    kind: str
    linear_density_tex: float


@dataclass(frozen=True, slots=True)
class Workroom:
    """What is on hand.

    Parameters
    ----------
    machines : tuple of Machine
        Machines; the needle in the hand is always among them.
    feet : tuple of str
        Keys in ``feet.csv``.
    needles : tuple of OwnedNeedle
        Needles.
    threads : tuple of OwnedThread
        Threads.
    stated : bool
        False for the usual workroom that is assumed when none is named.
    """

    machines: tuple[Machine, ...]
    feet: tuple[str, ...] = ()
    needles: tuple[OwnedNeedle, ...] = ()
    threads: tuple[OwnedThread, ...] = ()
    stated: bool = False

    def makes(self, stitch: str) -> Machine | None:
        """Return the machine that makes a stitch.

        Parameters
        ----------
        stitch : str
            ISO 4915 number.

        Returns
        -------
        Machine or None
            The first that does; None if none does.
        """
        return next((one for one in self.machines if stitch in one.stitches), None)

    @property
    def overlocks(self) -> bool:
        """Whether an overlocker stands there."""
        return self.makes("504") is not None

    @property
    def zigzags(self) -> bool:
        """Whether a machine makes a zigzag."""
        return self.makes("304") is not None


def machine(kind: str) -> Machine:
    """Return a machine as its kind usually is.

    Parameters
    ----------
    kind : str
        Key in ``machines.csv``.

    Returns
    -------
    Machine
        With usual measures.

    Raises
    ------
    UnknownNameError
        If the table does not know the kind.
    """
    entry = sewing_entry("machine", kind)
    return Machine(
        kind,
        tuple(entry.word("stitches").split()),
        entry.number("foot_lift_mm"),
        entry.number("stitch_width_mm"),
        entry.number("stitch_length_mm"),
    )


def usual_workroom() -> Workroom:
    """Return the workroom that is assumed when none is named.

    Returns
    -------
    Workroom
        A zigzag machine, an overlocker and the hand, every foot; needles and threads not known.
    """
    kinds = ("zigzag", "overlocker", "hand")
    return Workroom(tuple(machine(kind) for kind in kinds), tuple(sewing_entries("foot")))


def machines_for(stitch: str) -> tuple[str, ...]:
    """Return the kinds of machine that make a stitch.

    Parameters
    ----------
    stitch : str
        ISO 4915 number.

    Returns
    -------
    tuple of str
        Plain names, in the order of the table.
    """
    return tuple(
        entry.word("name")
        for entry in sewing_entries("machine").values()
        if stitch in entry.word("stitches").split()
    )
