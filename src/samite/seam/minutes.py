"""Minutes at the machine and around it."""

from __future__ import annotations

from samite.kernel.errors import UnknownNameError
from samite.kernel.quantity import Quantity
from samite.kernel.ranges import require_positive
from samite.tables.sewing import sewing_entries


def machine_rate_m_per_min(*, stitches_per_min: float, stitch_length_mm: float) -> float:
    """Return the seam that a running machine sews in a minute.

    Parameters
    ----------
    stitches_per_min : float
        Speed: 200 to 400 on garments at home [1/min].
    stitch_length_mm : float
        Stitch length [mm].

    Returns
    -------
    float
        Length of seam [m/min].

    Raises
    ------
    OutOfRangeError
        If a number is not positive.

    Notes
    -----
    Running time alone; at home it is 10 to 20 % of the whole.

    References
    ----------
    ``definition``: stitches a minute times stitch length.
    """
    require_positive(stitches_per_min=stitches_per_min, stitch_length_mm=stitch_length_mm)
    return stitches_per_min * stitch_length_mm / 1000.0


def element_minutes_per_m(*, element: str, cloth_class: str) -> Quantity:
    """Return the minutes of one element of sewing, handling included.

    Parameters
    ----------
    element : str
        ``sew``, ``hold``, ``baste``, ``overedge``, ``bind``, ``press``, ``clear``, ``narrow-hem``
        or ``hand-hem``.
    cloth_class : str
        ``plain``, ``slippery``, ``pile``, ``sequins`` or ``sheet``.

    Returns
    -------
    Quantity
        Minutes for a metre of seam [min/m].

    Raises
    ------
    UnknownNameError
        If the table has no such element for such cloth.

    Notes
    -----
    For one skilled maker; a guess, to be overwritten by logged times.

    References
    ----------
    ``guess``: element times.
    """
    table = sewing_entries("minutes")
    entry = table.get(f"{element}/{cloth_class}")
    if entry is None or not entry.has("minutes_per_m"):
        known = ", ".join(key for key in table if not key.endswith("/any"))
        raise UnknownNameError(
            f"no minutes for {element} on {cloth_class} cloth", "element", f"known: {known}"
        )
    return entry.quantity("minutes_per_m")
