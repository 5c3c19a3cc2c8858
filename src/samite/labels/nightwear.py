"""Children's sleepwear: the garments that are let off, and the char length of the rest."""

from __future__ import annotations

from collections.abc import Sequence

from samite.kernel.errors import InputError
from samite.kernel.ranges import require_between, require_positive
from samite.labels.rules.book import Ruling, rule

LARGEST_AGE_MONTHS = 1440


def infant_garment(*, age_months: int, pieces_cm: Sequence[float]) -> Ruling:
    """Return whether a sleepwear garment is let off as an infant garment.

    Parameters
    ----------
    age_months : int
        Size of the garment by age in whole months [-].
    pieces_cm : sequence of float
        Length of its one piece or of each of its two pieces [cm].

    Returns
    -------
    Ruling
        ``infant garment`` or ``not an infant garment``.

    Raises
    ------
    InputError
        If there are not one or two pieces.
    OutOfRangeError
        If a number is impossible.

    Notes
    -----
    An infant garment must still meet 16 CFR 1610 and 1611 and carry its size in months.

    References
    ----------
    ``cfr-16-1615``: 1615.1(c).
    """
    require_between(0, LARGEST_AGE_MONTHS, age_months=age_months)
    if len(pieces_cm) not in (1, 2):
        raise InputError(
            "an infant garment has one or two pieces", "pieces_cm", "give their lengths"
        )
    for piece_cm in pieces_cm:
        require_positive(pieces_cm=piece_cm)
    ruled = rule("infant-garment")
    longest = ruled.limits["one_piece_cm" if len(pieces_cm) == 1 else "two_piece_cm"]
    small = age_months <= ruled.limits["age_months"] and max(pieces_cm) <= longest
    return Ruling(
        "infant garment" if small else "not an infant garment", ruled.text, ruled.evidence
    )


def char_length(*, char_lengths_cm: Sequence[float]) -> Ruling:
    """Return whether five sleepwear specimens pass by their char lengths.

    Parameters
    ----------
    char_lengths_cm : sequence of float
        Char length of each of the five specimens [cm].

    Returns
    -------
    Ruling
        ``pass`` or ``fail``.

    Raises
    ------
    InputError
        If there are not five specimens.
    OutOfRangeError
        If a length is impossible.

    Notes
    -----
    The limits are cited from memory.

    References
    ----------
    ``cfr-16-1615``: 1615.3(b), 1616.3(b).
    """
    ruled = rule("char-length")
    limits = ruled.limits
    specimens = rule("char-length-sample").limits["specimens"]
    if len(char_lengths_cm) != specimens:
        raise InputError(
            f"{len(char_lengths_cm)} specimens do not make a sample",
            "char_lengths_cm",
            f"give {specimens:g}",
        )
    for length_cm in char_lengths_cm:
        require_between(0.0, float("inf"), char_lengths_cm=length_cm)
    mean_cm = sum(char_lengths_cm) / len(char_lengths_cm)
    passed = mean_cm <= limits["mean_cm"] and max(char_lengths_cm) < limits["whole_cm"]
    return Ruling("pass" if passed else "fail", ruled.text, ruled.evidence)
