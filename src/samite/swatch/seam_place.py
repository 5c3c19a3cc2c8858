"""One seam in one place: cloths, needle, thread, stitch, and how hard it is tried."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from samite.cloth.model import Cloth
from samite.garment.use import Use
from samite.garment.workroom import OwnedThread, usual_workroom
from samite.seam.candidate import Candidate, Settled
from samite.seam.demands import Demands
from samite.seam.share import settle
from samite.seam.stitch import Stitch
from samite.seam.wants import Wants, wanted
from samite.tables.sewing import sewing_entries

if TYPE_CHECKING:
    from samite.swatch.trial import SewTrial

CLAMP_CM = 2.5
"""Width of the seam from which a weight is hung [cm]."""

GRAVITY_N_KG = 9.80665
"""Weight of a kilogram [N]."""


@dataclass(frozen=True)
class SeamPlace:
    """One seam as it is sewn, and how hard it is stretched and pulled.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.
    settled : Settled
        Needle, thread, foot and holding.
    candidate : Candidate
        Form and stitch.
    stretch_percent : float or None
        Stretch that it is put to; None if it is not stretched [%].
    load_n_per_cm : float or None
        Pull across; None if it is not pulled [N/cm].
    """

    wants: tuple[Wants, ...]
    settled: Settled
    candidate: Candidate
    stretch_percent: float | None = None
    load_n_per_cm: float | None = None

    @property
    def cloths(self) -> tuple[Cloth, ...]:
        """The cloths."""
        return tuple(one.cloth for one in self.wants)

    @property
    def stitch(self) -> Stitch:
        """The stitch."""
        return self.candidate.stitch

    def sewn(
        self,
        *,
        needle_point: str | None = None,
        size_nm: int | None = None,
        tex: float | None = None,
        length_mm: float | None = None,
    ) -> SeamPlace:
        """Return the same seam sewn a little otherwise.

        Parameters
        ----------
        needle_point : str or None
            Another point.
        size_nm : int or None
            Another needle [needle Nm].
        tex : float or None
            Another thread [tex].
        length_mm : float or None
            Another stitch length [mm].

        Returns
        -------
        SeamPlace
            What is None stays.
        """
        settled, stitch = self.settled, self.stitch
        needle = replace(
            settled.needle,
            point=needle_point or settled.needle.point,
            size_nm=size_nm or settled.needle.size_nm,
        )
        thread = replace(
            settled.thread, linear_density_tex=tex or settled.thread.linear_density_tex
        )
        longer = replace(stitch, length_mm=length_mm or stitch.length_mm)
        return replace(
            self,
            settled=replace(settled, needle=needle, thread=thread),
            candidate=replace(self.candidate, stitch=longer),
        )


def usual_place(cloth: Cloth) -> SeamPlace:
    """Return a cloth sewn to itself by a plain seam as it wants it, in the usual workroom.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    SeamPlace
        Neither stretched nor pulled.
    """
    wants, room = wanted((cloth, cloth), Use()), usual_workroom()
    settled = settle(wants, room, Demands())
    stitch = wants[0].stitch.value
    machine = room.makes(stitch.type) or room.machines[0]
    candidate = Candidate("SSa", stitch, wants[0].seam.value, (), "", machine)
    return SeamPlace(wants, settled, candidate)


def place_of(usual: SeamPlace, trial: SewTrial) -> SeamPlace:
    """Return the seam of a swatch.

    Parameters
    ----------
    usual : SeamPlace
        The cloth sewn to itself as it wants it.
    trial : SewTrial
        How it was sewn.

    Returns
    -------
    SeamPlace
        As a plain seam; foot and holding are those that the cloth wants, since nobody writes them
        down. More layers than two count as two.
    """
    settled, candidate = usual.settled, usual.candidate
    needle = replace(settled.needle, point=trial.needle_point, size_nm=trial.needle_size_nm)
    kind = thread_kind(trial.thread_fibre, settled.thread.kind)
    thread = OwnedThread(kind, trial.thread_tex)
    stitch = Stitch(_known_stitch(trial), trial.stitch_length_mm, trial.stitch_width_mm)
    hung = trial.hung_kg
    return SeamPlace(
        usual.wants,
        replace(settled, needle=needle, thread=thread),
        replace(candidate, stitch=stitch),
        trial.stretch_percent,
        None if hung is None else hung * GRAVITY_N_KG / CLAMP_CM,
    )


def _known_stitch(trial: SewTrial) -> str:
    """A number that no table knows counts as the stitch it looks like."""
    if trial.stitch_type in sewing_entries("stitch"):
        return trial.stitch_type
    return "304" if trial.stitch_width_mm else "301"


def thread_kind(words: str, usual: str) -> str:
    """Return the key of a thread that a person names.

    Parameters
    ----------
    words : str
        What it is spun from, or what it is called.
    usual : str
        Key where no thread is called so.

    Returns
    -------
    str
        Key in ``threads.csv``; the usual one first if it fits the words.
    """
    wanted_ = words.casefold().strip()
    entries = sewing_entries("thread")
    fitting = [
        key
        for key, entry in entries.items()
        if wanted_ in (key, entry.word("name").casefold(), entry.word("fibre").casefold())
    ]
    return usual if usual in fitting or not fitting else fitting[0]
