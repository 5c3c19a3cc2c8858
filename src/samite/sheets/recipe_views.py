"""What the strip of the recipe and the curve of the hold are drawn from: words and numbers only."""

from __future__ import annotations

from dataclasses import dataclass

from samite.sheets.views import Span


@dataclass(frozen=True, slots=True)
class PassPanel:
    """One pass of the iron, as a panel.

    Parameters
    ----------
    side : str
        Side of the cloth that is up, ``wrong`` or ``right``.
    before : str
        What is done before it, in a few words; empty for the first.
    turned : bool
        Whether the seam is turned over before it.
    dots : int
        Dots of the dial, 0 if the sole never touches.
    dial : str
        Word on the dial.
    steam : str
        ``none``, ``light``, ``full`` or ``hover``.
    press_cloth : str
        ``none``, ``dry`` or ``damp``.
    motion : str
        ``lift`` or ``stroke``.
    count_s, stop_s : float
        Seconds to count, and by which to stop [s].
    """

    side: str
    before: str
    turned: bool
    dots: int
    dial: str
    steam: str
    press_cloth: str
    motion: str
    count_s: float
    stop_s: float


@dataclass(frozen=True, slots=True)
class HoldPanel:
    """What holds the seam after the iron.

    Parameters
    ----------
    side : str
        Side of the cloth that is up.
    tool : str
        ``clapper``, ``weight``, ``hand`` or ``none``.
    words : str
        The tool in words.
    seconds : float
        How long [s].
    heat_c : tuple of (float, float) or None
        Seam line when the iron leaves and when the hold ends [C].
    """

    side: str
    tool: str
    words: str
    seconds: float
    heat_c: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class RecipeStrip:
    """The recipe, a panel a pass and one for the hold.

    Parameters
    ----------
    order : str
        How the seam lies: ``open``, ``to one side``, ``french`` or ``edge``.
    heading : str
        How it lies and on what, in words.
    passes : tuple of PassPanel
        In working order.
    hold : HoldPanel or None
        None if nothing holds it.
    """

    order: str
    heading: str
    passes: tuple[PassPanel, ...]
    hold: HoldPanel | None


@dataclass(frozen=True, slots=True)
class HoldCurve:
    """What holding does, second by second.

    Parameters
    ----------
    tool : str
        What holds it, in words.
    seconds : tuple of float
        Seconds held [s].
    core_c : tuple of (float, float, float)
        Temperature at the seam line [C].
    chance_set : tuple of float
        Chance that the seam is set if it is let go then, 0 to 1.
    enough_s : float
        From when on holding adds next to nothing [s].
    """

    tool: str
    seconds: tuple[float, ...]
    core_c: tuple[Span, ...]
    chance_set: tuple[float, ...]
    enough_s: float
