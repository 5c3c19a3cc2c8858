"""What a packet is made of: chapters of words, tables, tick lists and drawings, and cards."""

from __future__ import annotations

from dataclasses import dataclass

from samite.sheets.views import CardSheet


@dataclass(frozen=True, slots=True)
class Block:
    """One thing in a chapter.

    Parameters
    ----------
    kind : str
        ``words``, ``lead`` (words kept with what follows), ``small``, ``heading``, ``table``,
        ``ticks``, ``lines`` (to write on) or ``drawing``.
    text : str
        Its words; of a drawing what it shows, read aloud.
    rows : tuple of tuple of str
        Rows of a table or of a tick list, the header of a table first.
    widths : tuple of float
        Shares of the width that the columns of a table take [-].
    svg : str
        A drawing.
    width_mm : float
        Widest that a drawing is shown [mm].
    height_mm : float
        Tallest that a drawing is shown [mm].
    columns : int
        Ticks side by side; of ``lines``, how many there are [count].
    """

    kind: str
    text: str = ""
    rows: tuple[tuple[str, ...], ...] = ()
    widths: tuple[float, ...] = ()
    svg: str = ""
    width_mm: float = 190.0
    height_mm: float = 230.0
    columns: int = 1


@dataclass(frozen=True, slots=True)
class Chapter:
    """A chapter; it begins on a page of its own.

    Parameters
    ----------
    title : str
        Its title.
    blocks : tuple of Block
        What is in it.
    """

    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Packet:
    """Everything for the workroom in one document.

    Parameters
    ----------
    title : str
        Name of the job.
    front : tuple of Chapter
        Chapters before the cards; the first is the cover.
    cards : tuple of CardSheet
        Bench cards, one a page.
    back : tuple of Chapter
        Chapters after them.
    """

    title: str
    front: tuple[Chapter, ...]
    cards: tuple[CardSheet, ...] = ()
    back: tuple[Chapter, ...] = ()
