"""What was tried on a swatch of real cloth, and the swatch with what was seen on it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from samite.garment.bench import SOLE_RANGE_C
from samite.garment.stock import NEEDLE_SIZES_NM, THREADS_TEX
from samite.kernel.errors import InputError
from samite.kernel.ranges import require_between
from samite.press.dials import Dial
from samite.press.techniques import CLOTHS, SIDES, STEAMS
from samite.swatch.seen import STRETCH_PERCENT, Finding, Sign, check_findings

TRIED_STEAMS = (STEAMS[0], "hover", *STEAMS[1:])
"""Steams that can be tried, hover among them."""

PIECES = ("seam", "single-layer")
"""What the iron stood on."""

SUPPORTS = ("board", "needle-board", "towel", "ham", "seam-roll", "self", "none")
"""What can lie under the cloth."""

HOLDS = ("none", "hand", "weight", "clapper")
"""What can hold the seam after the iron."""

LONGEST_PRESS_S = 600.0
"""Longest that an iron is believed to have stood on one place [s]."""

LONGEST_HOLD_S = 3600.0
"""Longest hold that is believed [s]."""

HUNG_KG = (0.05, 60.0)
"""Least and most that is hung from 25 mm of a seam [kg]."""

LONGEST_NOTE = 4000
"""Characters of a note."""

MOST_PHOTOS = 6
"""Photos of one swatch."""


@dataclass(frozen=True, slots=True)
class PressTrial:
    """One pressing of a swatch.

    Parameters
    ----------
    dial : Dial
        Where the dial stood.
    steam : str
        ``none``, ``hover``, ``light`` or ``full``.
    press_cloth : str
        ``none``, ``dry`` or ``damp``.
    side : str
        Side of the cloth that the iron stood on, ``wrong`` or ``right``.
    seconds : float
        How long it stood on one place [s].
    sole_c : float or None
        Temperature of the sole, if it was read [C].
    hold_tool : str
        What held the seam afterwards: ``none``, ``hand``, ``weight`` or ``clapper``.
    hold_seconds : float
        How long [s].
    support : str
        What lay under it.
    piece : str
        ``seam``, pressed open, or ``single-layer``.
    iron_key : str
        Key of the iron in the store; empty if it is not there.
    board_key : str
        Key of the board in the store; empty if it is not there.

    Raises
    ------
    InputError
        If a word is none of those, or they contradict each other.
    """

    dial: Dial
    steam: str
    press_cloth: str
    side: str
    seconds: float
    sole_c: float | None = None
    hold_tool: str = "none"
    hold_seconds: float = 0.0
    support: str = "board"
    piece: str = "seam"
    iron_key: str = ""
    board_key: str = ""

    def __post_init__(self) -> None:
        _require_one_of("steam", self.steam, TRIED_STEAMS)
        _require_one_of("press_cloth", self.press_cloth, CLOTHS)
        _require_one_of("side", self.side, SIDES)
        _require_one_of("hold_tool", self.hold_tool, HOLDS)
        _require_one_of("support", self.support, SUPPORTS)
        _require_one_of("piece", self.piece, PIECES)
        require_between(0.1, LONGEST_PRESS_S, seconds=self.seconds)
        require_between(0.0, LONGEST_HOLD_S, hold_seconds=self.hold_seconds)
        if self.sole_c is not None:
            require_between(*SOLE_RANGE_C, sole_c=self.sole_c)
        self._check_contact()

    def _check_contact(self) -> None:
        if self.dial is Dial.NONE and self.steam != "hover":
            raise InputError(
                "without an iron nothing is pressed", "dial", "say where the dial stood"
            )
        if self.steam == "hover" and self.press_cloth != "none":
            raise InputError(
                "steam held off touches no press cloth", "press_cloth", "say none, or another steam"
            )
        if self.hold_tool == "none" and self.hold_seconds > 0.0:
            raise InputError("held, but with nothing", "hold_tool", "say what held it")


@dataclass(frozen=True, slots=True)
class SewTrial:
    """One seam sewn on a swatch.

    Parameters
    ----------
    layers : int
        Layers of cloth sewn together [1].
    needle_point : str
        Point of the needle.
    needle_size_nm : int
        Blade diameter in hundredths of a millimetre [Nm].
    thread_fibre : str
        What the thread is spun from.
    thread_tex : float
        Linear density of the thread [tex].
    stitch_type : str
        Number of ISO 4915, for example ``301``.
    stitch_length_mm : float
        Length of a stitch [mm].
    stitch_width_mm : float
        Width of a stitch; 0 for a straight one [mm].
    tension : float or None
        Number on the machine's tension dial, if it was read [-].
    stretch_percent : float or None
        How far the seam was stretched in the test, if it was [%].
    hung_kg : float or None
        Weight that was hung from 25 mm of the seam, if one was [kg].

    Raises
    ------
    OutOfRangeError
        If a number is impossible.
    InputError
        If the stitch is no number.
    """

    layers: int
    needle_point: str
    needle_size_nm: int
    thread_fibre: str
    thread_tex: float
    stitch_type: str
    stitch_length_mm: float
    stitch_width_mm: float = 0.0
    tension: float | None = None
    stretch_percent: float | None = None
    hung_kg: float | None = None

    def __post_init__(self) -> None:
        require_between(1, 30, layers=self.layers)
        require_between(*NEEDLE_SIZES_NM, needle_size_nm=self.needle_size_nm)
        require_between(*THREADS_TEX, thread_tex=self.thread_tex)
        require_between(0.2, 15.0, stitch_length_mm=self.stitch_length_mm)
        require_between(0.0, 15.0, stitch_width_mm=self.stitch_width_mm)
        if not (self.stitch_type.isascii() and self.stitch_type.isdigit()):
            raise InputError(
                f"{self.stitch_type[:20]!r} is no stitch type",
                "stitch_type",
                "give its number of ISO 4915, 301",
            )
        if self.tension is not None:
            require_between(0.0, 100.0, tension=self.tension)
        if self.stretch_percent is not None:
            require_between(*STRETCH_PERCENT, stretch_percent=self.stretch_percent)
        if self.hung_kg is not None:
            require_between(*HUNG_KG, hung_kg=self.hung_kg)


@dataclass(frozen=True, slots=True)
class Swatch:
    """A swatch: what was tried on which cloth, and what was seen.

    Parameters
    ----------
    cloth_key : str
        Key of the cloth in the store.
    made_on : date
        Day of the test.
    findings : tuple of Finding
        What was seen; a sign that is not there was looked for and not seen.
    press : PressTrial or None
        The pressing, if it was pressed.
    sew : SewTrial or None
        The seam, if it was sewn.
    note : str
        Anything else.
    maker : str
        Who made it; may be empty.
    photos : tuple of str
        Content hashes of the photos.
    set_aside : bool
        Whether later answers leave it out.

    Raises
    ------
    InputError
        If nothing was tried, nothing is said to be seen, or a sign cannot come from the trial.
    """

    cloth_key: str
    made_on: date
    findings: tuple[Finding, ...]
    press: PressTrial | None = None
    sew: SewTrial | None = None
    note: str = ""
    maker: str = ""
    photos: tuple[str, ...] = ()
    set_aside: bool = False

    def __post_init__(self) -> None:
        if self.press is None and self.sew is None:
            raise InputError("a result without a trial", "tried", "say how it was pressed or sewn")
        check_findings(self.findings)
        for item in self.findings:
            self._check_sign(item.sign)
        if len(self.note) > LONGEST_NOTE:
            raise InputError(
                f"the note has {len(self.note)} characters", "note", f"keep to {LONGEST_NOTE}"
            )
        if len(self.photos) > MOST_PHOTOS:
            raise InputError(
                f"{len(self.photos)} photos of one swatch", "photos", f"keep to {MOST_PHOTOS}"
            )

    def _check_sign(self, sign: Sign) -> None:
        if self.press is None and not sign.by_sewing:
            raise InputError(
                f"{sign.words} comes from pressing, but nothing was pressed",
                "seen",
                "say how it was pressed, or leave it out",
            )
        if self.sew is None and not sign.by_pressing:
            raise InputError(
                f"{sign.words} comes from sewing, but nothing was sewn",
                "seen",
                "say how it was sewn, or leave it out",
            )

    def finding(self, sign: Sign) -> Finding | None:
        """Return what was seen of a sign.

        Parameters
        ----------
        sign : Sign
            The sign.

        Returns
        -------
        Finding or None
            None if it was looked for and not seen.
        """
        return next((item for item in self.findings if item.sign is sign), None)

    @property
    def harmed(self) -> bool:
        """Whether any damage was seen, doubtful or clear."""
        return any(item.sign.harms for item in self.findings)


def _require_one_of(name: str, word: str, words: tuple[str, ...]) -> None:
    if word not in words:
        raise InputError(
            f"{word[:40]!r} is no {name.replace('_', ' ')}", name, f"say {', '.join(words)}"
        )
