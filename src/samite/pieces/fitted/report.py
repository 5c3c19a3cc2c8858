"""What is told of fitted pieces beside the pieces themselves."""

from __future__ import annotations

from dataclasses import dataclass

from samite.pieces.fitted.plan import SeamEase
from samite.pieces.flatten.strain import StrainRange


@dataclass(frozen=True, slots=True)
class Limits:
    """What a cloth may be asked to give.

    Parameters
    ----------
    warp : float
        Along the grain [-].
    weft : float
        Across it [-].
    surplus : float
        Shortening that can be eased or pressed away [-].
    shear_deg : float
        Change of the right angle between the threads [deg].
    """

    warp: float
    weft: float
    surplus: float
    shear_deg: float

    def use(self, region: StrainRange) -> float:
        """Return the largest share of a limit that a region takes.

        Parameters
        ----------
        region : StrainRange
            Strains of the region.

        Returns
        -------
        float
            Over 1 if it is too much [-].
        """
        return max(
            region.warp[1] / self.warp, region.weft[1] / self.weft,
            -min(region.warp[0], region.weft[0]) / self.surplus,
            region.shear_deg / self.shear_deg,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class PanelOption:
    """One way to part a garment, and what it costs.

    Parameters
    ----------
    name : str
        ``2 + 2`` for two panels a half in front and two behind.
    use : float
        Largest share of what the cloth allows [-].
    region : str
        Where that is.
    seam_length_mm : float
        Length of all vertical seams and darts, both halves [mm].
    pieces : int
        How many pieces are cut.
    worst_strain : float
        Largest pull along or across the grain [-].
    """

    name: str
    use: float
    region: str
    seam_length_mm: float
    pieces: int
    worst_strain: float

    @property
    def fits(self) -> bool:
        """Whether the cloth takes it."""
        return self.use <= 1.0


@dataclass(frozen=True, slots=True)
class Girth:
    """A girth or length: what was asked, and what the flat pieces have.

    Parameters
    ----------
    name : str
        Where.
    body_mm : float
        On the body [mm].
    asked_mm : float
        What the garment was to have there [mm].
    flat_mm : float
        What the flat pieces have [mm].
    """

    name: str
    body_mm: float
    asked_mm: float
    flat_mm: float


@dataclass(frozen=True, slots=True)
class Pressure:
    """Pressure of stretched cloth on the skin.

    Parameters
    ----------
    name : str
        Where.
    middle_kpa : float
        By the mean radius there [kPa].
    tightest_kpa : float
        Where the section turns most sharply [kPa].
    limit_kpa : float
        Above which it was felt as discomfort [kPa].
    """

    name: str
    middle_kpa: float
    tightest_kpa: float
    limit_kpa: float


@dataclass(frozen=True, slots=True)
class Bone:
    """A boning line.

    Parameters
    ----------
    name : str
        Where it lies.
    length_mm : float
        Length of the bone [mm].
    count : int
        How many of them.
    """

    name: str
    length_mm: float
    count: int


@dataclass(frozen=True, slots=True)
class FitReport:
    """What is told of fitted pieces.

    Parameters
    ----------
    regions : tuple of StrainRange
        Strains by panel and region.
    limits : Limits
        What the cloth allows.
    options : tuple of PanelOption
        Ways to part it that were tried.
    chosen : str
        Name of the one taken.
    eases : tuple of SeamEase
        Natural ease of the seams.
    girths : tuple of Girth
        Girths and lengths.
    pressures : tuple of Pressure
        Pressures; empty where the cloth is not stretched.
    bones : tuple of Bone
        Boning lines.
    guesses : tuple of str
        What was guessed, one sentence each.
    trial : str
        The test garment, what to sew it of.
    """

    regions: tuple[StrainRange, ...]
    limits: Limits
    options: tuple[PanelOption, ...]
    chosen: str
    eases: tuple[SeamEase, ...]
    girths: tuple[Girth, ...]
    pressures: tuple[Pressure, ...] = ()
    bones: tuple[Bone, ...] = ()
    guesses: tuple[str, ...] = ()
    trial: str = ""

    @property
    def pulls(self) -> tuple[StrainRange, ...]:
        """Regions that ask more than the cloth allows."""
        return tuple(one for one in self.regions if self.limits.use(one) > 1.0)
