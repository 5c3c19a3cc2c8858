"""A whole job of work: operations, machines, makers with their sessions, and the day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from samite.kernel.evidence import Evidence
from samite.work.operation import Operation, Setting
from samite.work.setup import ChangeOvers

UNKNOWN = Setting()
"""Nobody knows what is set."""

TABLE = "table"
"""Name of the place where work without a machine is done."""


@dataclass(frozen=True, slots=True)
class Machine:
    """A machine, an iron or a steamer; one of it.

    Parameters
    ----------
    name : str
        Its name, no other machine has it.
    kind : str
        Kind, ``lockstitch``, ``overlocker``, ``iron``, ``steamer``.
    now : Setting
        What it is set to at the beginning; empty words if that is not known.
    """

    name: str
    kind: str
    now: Setting = UNKNOWN

    def can(self, wanted: tuple[str, ...]) -> bool:
        """Whether it is one of the machines wanted.

        Parameters
        ----------
        wanted : tuple of str
            Names or kinds.

        Returns
        -------
        bool
            True if its name or its kind is among them.
        """
        return self.name in wanted or self.kind in wanted


@dataclass(frozen=True, slots=True)
class Session:
    """A time in which a maker is there.

    Parameters
    ----------
    begin : datetime
        From.
    end : datetime
        To.
    """

    begin: datetime
    end: datetime

    @property
    def minutes(self) -> float:
        """Its length [min]."""
        return (self.end - self.begin).total_seconds() / 60.0


@dataclass(frozen=True, slots=True)
class Maker:
    """A person who sews.

    Parameters
    ----------
    name : str
        Name.
    sessions : tuple of Session
        When they are there.
    helper : bool
        Whether they take only what a helper can take over.
    """

    name: str
    sessions: tuple[Session, ...]
    helper: bool = False


@dataclass(frozen=True, slots=True)
class Finished:
    """An operation that is done.

    Parameters
    ----------
    name : str
        Its name.
    end : datetime
        When it was over.
    minutes : float or None
        How long it took, if that was noted [min].
    machine : str
        On what it was done; empty if that is not known.
    """

    name: str
    end: datetime
    minutes: float | None = None
    machine: str = ""


@dataclass(frozen=True, slots=True)
class WorkProblem:
    """Everything that a plan is made from.

    Parameters
    ----------
    name : str
        Name of the job.
    start : datetime
        Now: nothing is planned earlier.
    due : datetime or None
        When all must be over; None if no day is set.
    operations : tuple of Operation
        What has to be done.
    machines : tuple of Machine
        What it is done on.
    makers : tuple of Maker
        Who does it.
    change : ChangeOvers
        What change-overs cost.
    margin_share : float
        Time of the sessions to be left free before the day, as a share of the work [-].
    finished : tuple of Finished
        What is done already.
    evidence : Evidence or None
        Where `margin_share` comes from.
    """

    name: str
    start: datetime
    due: datetime | None
    operations: tuple[Operation, ...]
    machines: tuple[Machine, ...]
    makers: tuple[Maker, ...]
    change: ChangeOvers
    margin_share: float = 0.15
    finished: tuple[Finished, ...] = ()
    evidence: Evidence | None = None

    def operation(self, name: str) -> Operation:
        """Return an operation.

        Parameters
        ----------
        name : str
            Its name.

        Returns
        -------
        Operation
            The one of that name.
        """
        return next(one for one in self.operations if one.name == name)

    def left(self) -> tuple[Operation, ...]:
        """Return the operations that are not done.

        Returns
        -------
        tuple of Operation
            In their order.
        """
        done = {one.name for one in self.finished}
        return tuple(one for one in self.operations if one.name not in done)

    def hot(self) -> frozenset[str]:
        """Return the irons that are on at the start.

        Returns
        -------
        frozenset of str
            Names of those used in a session that is going on.
        """
        going = [
            session.begin
            for maker in self.makers
            for session in maker.sessions
            if session.begin < self.start < session.end
        ]
        irons = {one.name for one in self.machines if one.kind == "iron"}
        return frozenset(
            one.machine
            for one in self.finished
            if one.machine in irons and any(begin <= one.end <= self.start for begin in going)
        )
