"""What the drawing of a joint needs to know: plain values, no engines."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PlyView:
    """One cloth of the joint.

    Parameters
    ----------
    name : str
        The cloth in words.
    thickness_mm : float
        Its thickness in the seam [mm].
    yarn_diameter_mm : float
        Diameter of its yarns, estimated [mm].
    yarn_spacing_mm : float
        Centre to centre [mm].
    solid : bool
        Whether it is a sheet without yarns.
    """

    name: str
    thickness_mm: float
    yarn_diameter_mm: float
    yarn_spacing_mm: float
    solid: bool


@dataclass(frozen=True, slots=True)
class WayView:
    """One way to join.

    Parameters
    ----------
    form : str
        Key in ``seams.csv``.
    title : str
        Its name.
    rest : int
        Ply toward which the allowances lie.
    upper : int
        Ply on top of a lap.
    stitch : str
        ISO 4915 number.
    stitch_words : str
        The stitch in words.
    stitch_length_mm : float
        Stitch length [mm].
    stitch_width_mm : float
        Width, 0 for a straight stitch [mm].
    overedge : bool
        Whether the stitch wraps the edge.
    allowance_mm : float
        Seam allowance [mm].
    lines : tuple of str
        What it does, one line each.
    finishes : tuple of str
        Finish of the raw edge of each cloth, in their order; keys in ``edge_finishes.csv``.
    """

    form: str
    title: str
    rest: int
    upper: int
    stitch: str
    stitch_words: str
    stitch_length_mm: float
    stitch_width_mm: float
    overedge: bool
    allowance_mm: float
    lines: tuple[str, ...]
    finishes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SeamView:
    """A joint to be drawn.

    Parameters
    ----------
    title : str
        The cloths in words.
    plies : tuple of PlyView
        The first two cloths, the same twice for a cloth joined to itself, and a third behind.
    behind : str
        ``first``, ``second`` or ``both``: behind which a third lies; empty without one.
    third : str
        Where a third cloth lies, in words; empty without one.
    ways : tuple of WayView
        Best first.
    needle : str
        The needle in words.
    needle_mm : float
        Diameter of its blade [mm].
    eye_mm : float
        Width of its eye [mm].
    thread : str
        The thread in words.
    thread_mm : float
        Its diameter [mm].
    """

    title: str
    plies: tuple[PlyView, ...]
    behind: str
    third: str
    ways: tuple[WayView, ...]
    needle: str
    needle_mm: float
    eye_mm: float
    thread: str
    thread_mm: float

    @property
    def sides(self) -> tuple[tuple[int, ...], tuple[int, ...]]:
        """Numbers of the plies of either side, from the face to the wrong side."""
        first = (0, 2) if self.behind in ("first", "both") else (0,)
        second = (1, 2) if self.behind in ("second", "both") else (1,)
        return first, second

    @property
    def unlike(self) -> tuple[PlyView, ...]:
        """Each cloth once."""
        return tuple({ply.name: ply for ply in self.plies}.values())
