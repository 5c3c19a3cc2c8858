"""Sizes of sewing thread: counts, ticket number, diameter, strength."""

from __future__ import annotations

from samite.cloth.structure import filament_diameter_um
from samite.kernel.ranges import require_between, require_positive

PLIED_PACKING = 0.60
"""Share of a plied thread's section that is fibre."""


def ticket_number(*, linear_density_tex: float) -> float:
    """Return the metric ticket number of a thread.

    Parameters
    ----------
    linear_density_tex : float
        Resultant linear density [tex].

    Returns
    -------
    float
        Ticket number [-].

    Raises
    ------
    OutOfRangeError
        If the linear density is not positive.

    Notes
    -----
    Three times the resultant metric count, 3000 / tex. Threads are sold under the nearest
    customary ticket, which may lie 10 % off.

    References
    ----------
    ``thread-encyclopaedia``: ticket number.
    """
    require_positive(linear_density_tex=linear_density_tex)
    return 3000.0 / linear_density_tex


def resultant_tex(*, ply_tex: float, plies: int) -> float:
    """Return the linear density of a plied thread from that of its plies.

    Parameters
    ----------
    ply_tex : float
        Linear density of one ply; a yarn count is read as well [tex].
    plies : int
        Number of plies [-].

    Returns
    -------
    float
        Resultant linear density [tex].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    Notes
    -----
    Leaves out the few per cent by which twist shortens the plies: errs low.

    References
    ----------
    ``definition``: ISO 1144, resultant linear density.
    """
    require_positive(ply_tex=ply_tex, plies=plies)
    return ply_tex * plies


def thread_diameter_mm(
    *, linear_density_tex: float, fibre_density_g_cm3: float, packing: float = PLIED_PACKING
) -> float:
    """Return the diameter of a round thread.

    Parameters
    ----------
    linear_density_tex : float
        Resultant linear density [tex].
    fibre_density_g_cm3 : float
        Density of the fibre [g/cm3].
    packing : float
        Share of the thread's section that is fibre: 0.60 plied, 0.65 tight filament [-].

    Returns
    -------
    float
        Diameter [mm].

    Raises
    ------
    OutOfRangeError
        If a number is not positive or the packing above 1.

    Notes
    -----
    d = sqrt(4 T / (pi rho phi)) = 0.03568 sqrt(tex / (rho phi)) mm. Agrees with Peirce's
    d = 1 / (28 sqrt(Ne)) in at cotton 1.52 g/cm3 and packing 0.60. Textured thread is wider.

    References
    ----------
    ``peirce-1937``: The geometry of cloth structure, yarn diameter (from memory).
    """
    require_positive(packing=packing)
    require_between(0.0, 1.0, packing=packing)
    micrometres = filament_diameter_um(
        linear_density_tex=linear_density_tex,
        fibre_density_g_cm3=fibre_density_g_cm3 * packing,
    )
    return micrometres / 1000.0


def thread_strength_n(*, tenacity_cn_tex: float, linear_density_tex: float) -> float:
    """Return the breaking force of a thread from its tenacity.

    Parameters
    ----------
    tenacity_cn_tex : float
        Tenacity [cN/tex].
    linear_density_tex : float
        Resultant linear density [tex].

    Returns
    -------
    float
        Breaking force of the straight thread [N].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    References
    ----------
    ``definition``: tenacity.
    """
    require_positive(tenacity_cn_tex=tenacity_cn_tex, linear_density_tex=linear_density_tex)
    return tenacity_cn_tex * linear_density_tex / 100.0


def tenacity_cn_tex(*, thread_strength_n: float, linear_density_tex: float) -> float:
    """Return the tenacity of a thread from its breaking force.

    Parameters
    ----------
    thread_strength_n : float
        Breaking force of the straight thread [N].
    linear_density_tex : float
        Resultant linear density [tex].

    Returns
    -------
    float
        Tenacity [cN/tex].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    References
    ----------
    ``definition``: tenacity.
    """
    require_positive(thread_strength_n=thread_strength_n, linear_density_tex=linear_density_tex)
    return 100.0 * thread_strength_n / linear_density_tex
