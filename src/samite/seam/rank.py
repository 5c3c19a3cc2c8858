"""The candidates put in order by criteria that are shown."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.use import Use
from samite.kernel.reasons import Reason
from samite.seam import traits
from samite.seam.appraise import Numbers
from samite.seam.bulk import FLAG_MM
from samite.seam.candidate import Candidate, Score
from samite.seam.wants import Wants
from samite.tables.sewing import sewing_entry

WEIGHTS = {
    "what each cloth asks for alone": 4.0,
    "strength": 2.0,
    "stretch": 2.0,
    "bulk": 2.0,
    "right side": 2.5,
    "inside": 2.0,
    "minutes": 1.5,
    "skill": 1.0,
}
"""What each criterion counts (guess); shown with every answer."""

ENOUGH_MARGIN = 2.0
"""Strength or stretch over need beyond which more is no better [-]."""

LONG_MIN_PER_M = 30.0
"""Minutes a metre that count as worst [min/m]."""


@dataclass(frozen=True, slots=True)
class Ranked:
    """A candidate with its numbers and scores.

    Parameters
    ----------
    candidate : Candidate
        The seam.
    numbers : Numbers
        What it will do.
    scores : tuple of Score
        One a criterion.
    """

    candidate: Candidate
    numbers: Numbers
    scores: tuple[Score, ...]

    @property
    def total(self) -> float:
        """Weighted mean of the scores, 0 to 1."""
        weights = sum(score.weight for score in self.scores)
        return sum(score.share * score.weight for score in self.scores) / weights


def rank(
    candidates: tuple[tuple[Candidate, Numbers], ...],
    wants: tuple[Wants, ...],
    use: Use,
    *,
    own_overlocker: bool,
) -> tuple[Ranked, ...]:
    """Put candidates in order, best first.

    Parameters
    ----------
    candidates : tuple of (Candidate, Numbers)
        What works, with its numbers.
    wants : tuple of Wants
        The cloths.
    use : Use
        What the seam has to bear.
    own_overlocker : bool
        Whether an overlocker is known to stand in the workroom.

    Returns
    -------
    tuple of Ranked
        Best first; equals in the order of form and stitch.
    """
    found = [
        Ranked(
            candidate,
            numbers,
            _scores(candidate, numbers, wants, use, own_overlocker=own_overlocker),
        )
        for candidate, numbers in candidates
    ]
    return tuple(sorted(found, key=lambda one: (-round(one.total, 9), one.candidate.key)))


def _scores(
    candidate: Candidate,
    numbers: Numbers,
    wants: tuple[Wants, ...],
    use: Use,
    *,
    own_overlocker: bool,
) -> tuple[Score, ...]:
    cloths = tuple(one.cloth for one in wants)
    shares = {
        "what each cloth asks for alone": _habit(candidate, wants, own_overlocker=own_overlocker),
        "strength": _margin(numbers.strength_n_per_cm, numbers.load_n_per_cm),
        "stretch": _stretch(numbers),
        "bulk": _bulk(numbers),
        "right side": _right_side(candidate, cloths),
        "inside": _inside(candidate, cloths, use),
        "minutes": _minutes(numbers),
        "skill": _skill(candidate),
    }
    return tuple(
        Score(name, share, WEIGHTS[name], reason) for name, (share, reason) in shares.items()
    )


def _habit(
    candidate: Candidate, wants: tuple[Wants, ...], *, own_overlocker: bool
) -> tuple[float, Reason]:
    agree = 0.0
    for one in wants:
        form = one.seam.value.type == candidate.seam.type
        lies = not form or _same_lie(candidate.form, one)
        agree += 0.45 * form + 0.1 * lies + 0.45 * _same_stitch(candidate, one, own_overlocker)
    share = agree / len(wants)
    return share, traits.practice(f"{100 * share:.0f} % of what each cloth is sewn with alone")


def _same_stitch(candidate: Candidate, one: Wants, own_overlocker: bool) -> float:
    """An overlocked seam does for a zigzag in a knit as well, if there is an overlocker."""
    own = one.stitch.value
    if own.type == candidate.stitch.type:
        return 1.0
    if candidate.stitch.type in own.instead:
        return 1.0 if own_overlocker else 0.6
    return 0.0


def _same_lie(form: str, one: Wants) -> bool:
    knit = one.cloth.construction == "knit" and not traits.is_fur(one.cloth)
    together = (knit and not traits.is_sheet(one.cloth)) or "together" in one.seam.value.how
    return (form == "SSa-closed") == together


def _margin(strength: float, load: float) -> tuple[float, Reason]:
    times = strength / load
    share = min(times / ENOUGH_MARGIN, 1.0)
    return share, traits.guess(f"it bears {times:.1f} times the load")


def _stretch(numbers: Numbers) -> tuple[float, Reason]:
    needed = numbers.needed_stretch_percent
    if needed <= 0.0:
        return 1.0, traits.practice("no stretch is wanted along it")
    times = numbers.stretch_percent / needed
    return min(times / ENOUGH_MARGIN, 1.0), traits.guess(
        f"it stretches {times:.1f} times as far as wear asks"
    )


def _bulk(numbers: Numbers) -> tuple[float, Reason]:
    share = 1.0 - min(numbers.thickness_mm / FLAG_MM, 1.0)
    text = f"{numbers.thickness_mm:.1f} mm thick, {numbers.crossing_mm:.1f} mm at a crossing"
    return share, traits.guess(text)


def _right_side(candidate: Candidate, cloths: tuple[Cloth, ...]) -> tuple[float, Reason]:
    share, claims = 1.0, []
    rows = sewing_entry("seam", candidate.form).word("right_side")
    tender = any(cloth.holes_show or cloth.has(PartKind.PILE) for cloth in cloths)
    if "topstitching" in rows:
        share -= 0.7 if tender else 0.35
        claims.append(rows)
    if candidate.form == "LSa":
        motif = any(cloth.construction in ("lace", "film", "leather") for cloth in cloths)
        share -= 0.15 if motif else 0.5
        claims.append("a cut edge shows" if not motif else "the lap passes for a motif or edge")
    if candidate.form == "FSa":
        share -= 0.3
        claims.append("a zigzag across the join shows")
    if any(cloth.sheer for cloth in cloths) and candidate.form in ("SSa", "SSa-closed"):
        cost = _showing_through(candidate, cloths)
        share -= cost
        if cost > 0.1:
            claims.append("the allowances show through the sheer")
    if candidate.stitch.type in ("504", "514") and not all(
        c.construction == "knit" for c in cloths
    ):
        share -= 0.3
        claims.append("an overlocked seam grins when it is pulled")
    text = "; ".join(claims) or "nothing shows"
    return max(share, 0.0), traits.practice(text)


def _showing_through(candidate: Candidate, cloths: tuple[Cloth, ...]) -> float:
    opaque = any(not cloth.sheer for cloth in cloths)
    if candidate.form == "SSa-closed" and opaque:
        return 0.05
    narrow = candidate.seam.finish in ("narrow-double", "none")
    return 0.3 if narrow else 0.6


def _inside(candidate: Candidate, cloths: tuple[Cloth, ...], use: Use) -> tuple[float, Reason]:
    if use.lined:
        return 1.0, traits.practice("the lining covers it")
    if sewing_entry("seam", candidate.form).word("encloses_edges") == "yes":
        return 1.0, traits.practice("the raw edges are enclosed")
    frays = max(cloth.frays for cloth in cloths)
    if frays == 0:
        return 1.0, traits.practice("no edge frays")
    worst = min(
        sewing_entry("finish", edge.finish).number("wash_grade") for edge in candidate.finishes
    )
    wanted = 0.0 if use.short_lived else float(frays)
    if wanted <= 0.0:
        return 0.9, traits.practice("made for a night or two")
    return min(0.3 + 0.5 * worst / wanted, 0.85), traits.practice("raw edges, finished")


def _minutes(numbers: Numbers) -> tuple[float, Reason]:
    share = 1.0 - min(numbers.minutes_per_m / LONG_MIN_PER_M, 1.0)
    return share, traits.guess(f"about {numbers.minutes_per_m:.0f} min a metre")


def _skill(candidate: Candidate) -> tuple[float, Reason]:
    skill = max(
        sewing_entry("seam", candidate.form).number("skill"),
        sewing_entry("stitch", candidate.stitch.type).number("skill"),
    )
    words = {1: "easy", 2: "wants practice", 3: "wants much practice"}
    return 1.0 - (skill - 1.0) / 2.0, traits.guess(words[int(skill)])


def trade_offs(one: Ranked, best: Ranked) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Say what an alternative gains and loses against the best.

    Parameters
    ----------
    one : Ranked
        The alternative.
    best : Ranked
        The best.

    Returns
    -------
    tuple of (tuple of str, tuple of str)
        Gains and losses in words; both empty for the best itself.
    """
    gains: list[str] = []
    losses: list[str] = []
    for own, other in zip(one.scores, best.scores, strict=True):
        gap = own.share - other.share
        if abs(gap) >= 0.04:
            words = f"{own.criterion}: {own.reason.claim}"
            (gains if gap > 0 else losses).append(words)
    return tuple(gains), tuple(losses)
