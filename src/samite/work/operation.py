"""One operation of the work: what it takes, what it follows, what it leaves behind."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from samite.kernel.quantity import Quantity

HEATS = ("low", "medium", "high")
"""Heats of an iron, by the dots of its dial, coolest first."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What a machine or an iron must be set to; an empty word means that it does not matter.

    Parameters
    ----------
    needle : str
        Point and size, ``"sharp 70"``.
    thread : str
        Fibre, size and colour, ``"polyester 27 black"``.
    foot : str
        Presser foot.
    heat : str
        Heat of an iron, one of `HEATS`.
    """

    needle: str = ""
    thread: str = ""
    foot: str = ""
    heat: str = ""

    def words(self) -> str:
        """Return it as a person says it.

        Returns
        -------
        str
            ``"needle sharp 70, thread black"``; empty if nothing matters.
        """
        named = (("needle", self.needle), ("thread", self.thread), ("foot", self.foot))
        said = [f"{name} {value}" for name, value in named if value]
        return ", ".join([*said, *([f"iron {self.heat}"] if self.heat else [])])


@dataclass(frozen=True, slots=True)
class After:
    """An operation that must be over before another begins.

    Parameters
    ----------
    name : str
        Name of the earlier operation.
    reason : str
        Why it must be earlier, one sentence.
    wait_min : float
        Time that must pass between them, worked or not: drying, cooling, hanging [min].
    """

    name: str
    reason: str = ""
    wait_min: float = 0.0


@dataclass(frozen=True, slots=True)
class Simpler:
    """A simpler way to do an operation, kept for the day when time runs short.

    Parameters
    ----------
    words : str
        What is done instead, and what is lost.
    minutes : Quantity
        Time that it takes [min].
    machines : tuple of str
        Machines or kinds of machine of which any one will do; empty for the table.
    setting : Setting
        What the machine is set to.
    """

    words: str
    minutes: Quantity
    machines: tuple[str, ...] = ()
    setting: Setting = Setting()


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation.

    Parameters
    ----------
    name : str
        Its name, no other operation has it.
    minutes : Quantity
        Time at it, without change-overs [min].
    kind : str
        What sort of work it is, ``"sew"``; for the log and the strip.
    costume : str
        Costume that it belongs to; empty if there is one only.
    after : tuple of After
        What must be over before.
    machines : tuple of str
        Names or kinds of machine of which any one will do; empty for table and hands.
    setting : Setting
        What that machine must be set to.
    leaves : tuple of str
        What it leaves behind: ``glue``, ``glitter``, ``dark-fluff``, ``fur``.
    shuns : tuple of str
        What must not lie about when it is done.
    makers : tuple of str
        Who can do it; empty for anyone who is no helper.
    helper : bool
        Whether a helper can take it over.
    at : datetime or None
        Moment of an appointment, for example a fitting: it begins then.
    not_before : datetime or None
        It cannot begin earlier.
    by : datetime or None
        It must be over by then.
    may_drop : str
        What is lost if it is left out; empty if it cannot be left out.
    simpler : Simpler or None
        A simpler way.
    because : str
        What its minutes were made from; shown beside them.
    """

    name: str
    minutes: Quantity
    kind: str = ""
    costume: str = ""
    after: tuple[After, ...] = ()
    machines: tuple[str, ...] = ()
    setting: Setting = Setting()
    leaves: tuple[str, ...] = ()
    shuns: tuple[str, ...] = ()
    makers: tuple[str, ...] = ()
    helper: bool = False
    at: datetime | None = None
    not_before: datetime | None = None
    by: datetime | None = None
    may_drop: str = ""
    simpler: Simpler | None = None
    because: str = ""
