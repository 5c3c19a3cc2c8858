"""What the sheets draw from: frozen views, words and numbers only."""

from __future__ import annotations

from dataclasses import dataclass

Span = tuple[float, float, float]
"""5th, 50th and 95th percentile."""


@dataclass(frozen=True, slots=True)
class Zone:
    """A range of temperature that matters.

    Parameters
    ----------
    name : str
        What happens there, and to what.
    low_c, value_c, high_c : float
        5th, 50th and 95th percentile of where it lies [C].
    """

    name: str
    low_c: float
    value_c: float
    high_c: float


@dataclass(frozen=True, slots=True)
class PressCurve:
    """What one technique does, second by second.

    Parameters
    ----------
    technique : str
        The technique in plain words.
    seconds : tuple of float
        Seconds counted [s].
    core_c, face_c : tuple of (float, float, float)
        Temperature at the seam line and at the face of the garment, one span a second [C].
    chance_set, chance_damage : tuple of float
        Chance of a set seam and of harm, 0 to 1.
    count_s, stop_s : float
        Seconds to count, and by which to stop [s].
    safe : bool
        Whether these seconds meet both thresholds.
    softens : Zone or None
        Where the fibre softens; None if it is not known.
    limit : Zone or None
        Where the tenderest part is harmed; None if none is.
    moved_most : tuple of str
        The doubts that moved the answer most.
    """

    technique: str
    seconds: tuple[float, ...]
    core_c: tuple[Span, ...]
    face_c: tuple[Span, ...]
    chance_set: tuple[float, ...]
    chance_damage: tuple[float, ...]
    count_s: float
    stop_s: float
    safe: bool
    softens: Zone | None = None
    limit: Zone | None = None
    moved_most: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LayerView:
    """One layer of the pressed seam at one moment.

    Parameters
    ----------
    name : str
        What it is.
    material : str
        ``iron``, ``steam``, ``cloth``, ``pile``, ``ground``, ``face`` or ``support``.
    thickness_mm : float
        Thickness [mm]; 0 for what has none of its own.
    span_c : tuple of (float, float, float) or None
        Hottest so far in the layer [C]; None if it is not computed.
    limit : Zone or None
        Where its tenderest part is harmed.
    water_gsm : float or None
        Water in it [g/m2]; None if it is not computed or holds none.
    """

    name: str
    material: str
    thickness_mm: float
    span_c: Span | None
    limit: Zone | None = None
    water_gsm: float | None = None


@dataclass(frozen=True, slots=True)
class LayerStack:
    """The layers at one moment, from the iron down.

    Parameters
    ----------
    technique : str
        The technique in plain words.
    moment_s : float
        Seconds after the iron came down [s].
    layers : tuple of LayerView
        From the iron down.
    """

    technique: str
    moment_s: float
    layers: tuple[LayerView, ...]


@dataclass(frozen=True, slots=True)
class WorkLine:
    """One of the first five working lines.

    Parameters
    ----------
    tag : str
        ``CUT``, ``HOLD``, ``NEEDLE``, ``STITCH`` or ``SEAM``.
    big : str
        What is read from across the bench.
    detail : str
        What is read up close.
    grade : str
        How well the weakest of its reasons is known.
    """

    tag: str
    big: str
    detail: str
    grade: str


@dataclass(frozen=True, slots=True)
class PressPass:
    """One pass of the iron, in words.

    Parameters
    ----------
    where : str
        Side, and through what.
    dial : str
        Dial word.
    dots : int
        Dots of the dial.
    steam : str
        What the steam does.
    motion : str
        How the iron moves.
    count_s, stop_s : float
        Seconds to count, and by which to stop [s].
    """

    where: str
    dial: str
    dots: int
    steam: str
    motion: str
    count_s: float
    stop_s: float


@dataclass(frozen=True, slots=True)
class PressBlock:
    """The sixth line.

    Parameters
    ----------
    passes : tuple of PressPass
        In working order; empty without an iron.
    support : str
        What lies under.
    hold : str
        What holds it after, and how long.
    also : str
        What else serves as a press cloth, and the like; may be empty.
    instead : str
        What to do where the iron may not go.
    state : str
        Empty if safe, else what to do first.
    odds : str
        The chances in words; empty if not computed.
    grade : str
        How well the weakest of its reasons is known.
    """

    passes: tuple[PressPass, ...]
    support: str
    hold: str
    also: str
    instead: str
    state: str
    odds: str
    grade: str


@dataclass(frozen=True, slots=True)
class Note:
    """A small line with its source.

    Parameters
    ----------
    tag : str
        One word in front.
    text : str
        The line.
    source : str
        Where it comes from; may be empty.
    """

    tag: str
    text: str
    source: str = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing and what it says in words.

    Parameters
    ----------
    svg : str
        The drawing.
    alt : str
        What it shows.
    """

    svg: str
    alt: str


@dataclass(frozen=True, slots=True)
class CardSheet:
    """The bench card, ready for paper.

    Parameters
    ----------
    title : str
        Name of the cloth.
    role : str
        What it becomes; may be empty.
    label : str
        The label as typed.
    facts : tuple of str
        Mass, thickness, width and the like.
    lines : tuple of WorkLine
        The first five working lines.
    press : PressBlock
        The sixth.
    nevers : tuple of str
        What never to do, the weightiest first.
    test_first : str
        The test to make before the first cut.
    notes : tuple of Note
        Preparing, marking, feeding, hemming, care, further tests.
    cautions : tuple of Note
        What to mind.
    doubts : tuple of Note
        What is assumed and what is not known.
    curve, layers : Picture or None
        The drawings, if the window was computed.
    """

    title: str
    role: str
    label: str
    facts: tuple[str, ...]
    lines: tuple[WorkLine, ...]
    press: PressBlock
    nevers: tuple[str, ...]
    test_first: str
    notes: tuple[Note, ...]
    cautions: tuple[Note, ...]
    doubts: tuple[Note, ...]
    curve: Picture | None = None
    layers: Picture | None = None


@dataclass(frozen=True, slots=True)
class IndexRow:
    """One row of the index page.

    Parameters
    ----------
    role, cloth, needle, iron, stop : str
        What it becomes, of what, sewn and pressed with what, and the number to stop by.
    """

    role: str
    cloth: str
    needle: str
    iron: str
    stop: str


@dataclass(frozen=True, slots=True)
class IndexSheet:
    """The page in front of several cards.

    Parameters
    ----------
    title : str
        Name of the job.
    intro : str
        A sentence or two.
    rows : tuple of IndexRow
        One a card, in the order of the pages.
    """

    title: str
    intro: str
    rows: tuple[IndexRow, ...]
