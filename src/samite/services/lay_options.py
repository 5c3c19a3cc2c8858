"""What other choices would save: each is solved again, none is estimated."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from samite.cloth.reading import Price
from samite.kernel.errors import InfeasibleError, SamiteError
from samite.kernel.evidence import Grade
from samite.lay.carry import carried_lay
from samite.lay.from_pieces import lay_problem, opened_out
from samite.lay.problem import LayPiece, Problem
from samite.lay.split import with_joined
from samite.lay.tilt import off_grain_deg, tilted_within_grain
from samite.services.lay import LayAnswer, solve_lay
from samite.services.lay_buy import Extra, buy_json
from samite.services.lay_cases import LayAsk, LayCase, lay_cases
from samite.tables.lay import lay_rule

NARROW_MM = 10.0
"""Seam allowance tried instead of the usual 15 mm [mm]."""

TOLD = {Grade.GUESS: "a guess", Grade.COMMON_PRACTICE: "common practice"}
"""How a tolerance that no source gives is told."""

ALIKE_MM = 1e-3
"""Lays whose lengths differ by less are equally long [mm]."""

TILTED = "tilted within the grain's tolerance"
NOTHING_SHORTER = "nothing shorter was found in the time: the plain lay stays"
PLAIN_TOO = "the plain cloth could be laid so too: more seconds for it may find that"
OFF_GRAIN = (
    "a tilted piece hangs a little off grain and may swing or twist to one side, and the two of a"
    " pair may hang unlike: keep on grain what hangs long or free, and anything on which a stripe"
    " or check would show it"
)


@dataclass(frozen=True, slots=True)
class Option:
    """Another choice.

    Parameters
    ----------
    name : str
        One word or two.
    says : str
        What would be done otherwise, and what it costs besides cloth.
    problem : Problem
        The lay with it.
    """

    name: str
    says: str
    problem: Problem


def case_options(ask: LayAsk, case: LayCase) -> tuple[Option, ...]:
    """Return the other choices for a lay.

    Parameters
    ----------
    ask : LayAsk
        What was asked.
    case : LayCase
        One of its lays.

    Returns
    -------
    tuple of Option
        Only those that can be built.
    """
    made = [*_directions(ask, case), *_folds(ask, case), *_allowances(ask, case)]
    return (*made, *_joins(case.problem), *_tilts(case.problem, why=_guessed()))


def bare_options(problem: Problem) -> tuple[Option, ...]:
    """Return the other choices of a problem that was read from a file.

    Parameters
    ----------
    problem : Problem
        The problem.

    Returns
    -------
    tuple of Option
        Both directions, opened out, one joined piece, tilted within the tolerance of the grain.
    """
    made = []
    if all(set(piece.angles_deg or (0.0,)) == {0.0} for piece in problem.pieces):
        turned = tuple(replace(piece, angles_deg=(0.0, 180.0)) for piece in problem.pieces)
        made.append(
            Option("both directions", "pieces lie either way: only without any nap",
                   replace(problem, pieces=turned))
        )  # fmt: skip
    if problem.folded:
        made.append(
            Option("single layer", "open cloth, every piece cut singly", opened_out(problem))
        )
    return (*made, *_joins(problem), *_tilts(problem, why=""))


def _directions(ask: LayAsk, case: LayCase) -> Iterator[Option]:
    other = replace(case.rules, one_way=not case.rules.one_way)
    word = "one direction" if other.one_way else "both directions"
    says = (
        "all pieces the same way, as nap or a one-way figure would ask"
        if other.one_way
        else "pieces lie either way: only if the cloth turns out to have no nap"
    )
    yield from _built(ask, case, word, says, other)


def _folds(ask: LayAsk, case: LayCase) -> Iterator[Option]:
    other = replace(case.rules, folded=not case.rules.folded)
    word = "folded" if other.folded else "single layer"
    says = (
        "two layers at once: quicker, but what slides or shades comes out uneven"
        if other.folded
        else "open cloth, every piece cut singly: slower"
    )
    yield from _built(ask, case, word, says, other)


def _built(ask: LayAsk, case: LayCase, name: str, says: str, rules: Any) -> Iterator[Option]:
    try:
        problem = lay_problem(case.pieces, rules, case.problem.width_mm, crosswise=ask.crosswise)
    except InfeasibleError:
        return
    if case.problem.matches and not problem.folded:
        problem = replace(problem, repeat_across_mm=0.0, matches=case.problem.matches)
    yield Option(name, says, problem)


def _allowances(ask: LayAsk, case: LayCase) -> Iterator[Option]:
    if any(one.allowances or one.seams for one in ask.pieces):
        return
    narrow = dict.fromkeys(("seam", "gathered", "waist", "opening"), f"{NARROW_MM:g} mm")
    pieces = tuple(replace(one, allowances=narrow) for one in ask.pieces)
    try:
        cases = lay_cases(replace(ask, pieces=pieces))
    except SamiteError:
        return
    says = f"seam allowances of {NARROW_MM:g} mm instead of 15 mm: less to let out, and to fray"
    for one in cases:
        if one.kind == case.kind and one.width_mm == case.width_mm:
            yield Option("narrower allowances", says, one.problem)
            return


def _joins(problem: Problem) -> Iterator[Option]:
    """Yield one joined piece: a facing if there is one, else the longest that can be joined."""
    allowance = lay_rule("join", "join_seam_mm").value
    free = [p for p in problem.pieces if not p.fixed and p.motif_mm is None and not p.on_fold]
    facings = [piece for piece in free if "facing" in piece.name]
    for piece in sorted(facings or free, key=_reach, reverse=True)[:1]:
        xs, ys = zip(*piece.outline_mm, strict=True)
        across = max(xs) - min(xs) >= max(ys) - min(ys)
        try:
            joined = with_joined(
                problem, piece.name, share=0.5, seam_allowance_mm=allowance, across=across
            )
        except InfeasibleError:
            return
        says = f"{piece.name} made of two, with a seam in the middle"
        yield Option("one piece joined", says, joined)


def _tilts(problem: Problem, *, why: str) -> Iterator[Option]:
    """Yield the lay with pieces tilted, unless all have to stay on grain."""
    tilted = tilted_within_grain(problem)
    if tilted == problem:
        return
    most = max(
        new.grain_tolerance_deg
        for new, old in zip(tilted.pieces, problem.pieces, strict=True)
        if new != old
    )
    far = f"{most:g} degree{'' if most == 1.0 else 's'}"
    says = f"pieces may lie up to {far} off grain{why}; {OFF_GRAIN}"
    yield Option(TILTED, says, tilted)


def _guessed() -> str:
    """Return how well the tolerance of computed pieces is known."""
    grade = lay_rule("grain", "grain_tolerance_deg", "straight grain").evidence.grade
    return f" ({TOLD[grade]})" if grade in TOLD else ""


def _reach(piece: LayPiece) -> float:
    xs, ys = zip(*piece.outline_mm, strict=True)
    return float(max(max(xs) - min(xs), max(ys) - min(ys)))


def option_json(
    option: Option,
    extra: Extra,
    price: Price | None,
    plain: LayAnswer,
    *,
    seconds: float,
    seed: int,
    cancelled: Callable[[], bool] | None = None,
) -> dict[str, Any]:
    """Solve another choice and say what it would save.

    Parameters
    ----------
    option : Option
        The choice.
    extra : Extra
        What is bought beyond the lay.
    price : Price or None
        As the label prints it.
    plain : LayAnswer
        What is laid without it.
    seconds : float
        Time to search [s].
    seed : int
        Start of the random numbers.
    cancelled : callable or None
        Whether to stop.

    Returns
    -------
    dict of str to object
        ``name``, ``says``, ``status``, ``why``, ``length_mm``, ``buy_mm``, ``saves_mm`` (of what is
        bought), ``saves_lay_mm``, ``saves_price`` and ``tilted`` (pieces that lie off grain).
    """
    found = solve_lay(option.problem, seconds=seconds, seed=seed, cancelled=cancelled)
    answer = no_longer(found, plain)
    told: dict[str, Any] = {"name": option.name, "says": option.says, "status": answer.lay.status}
    if not answer.found:
        return {**told, "why": answer.lay.why}
    usual = buy_json(plain.lay.length_mm, plain.lay.bound_mm, extra, price)
    buy = buy_json(answer.lay.length_mm, answer.lay.bound_mm, extra, price)
    saved = None
    if buy["price"] and usual["price"]:
        saved = round(usual["price"]["amount"] - buy["price"]["amount"], 2)
    return {
        **told,
        "why": answer.lay.why or _luck(answer, plain),
        "length_mm": buy["lay_mm"],
        "buy_mm": buy["buy_mm"],
        "saves_mm": round(usual["buy_mm"] - buy["buy_mm"], 3),
        "saves_lay_mm": round(usual["lay_mm"] - buy["lay_mm"], 3),
        "saves_price": saved,
        "tilted": tilted_names(answer),
    }


def no_longer(answer: LayAnswer, plain: LayAnswer) -> LayAnswer:
    """Return the lay of another choice, or the plain one where that will do and is no longer.

    Parameters
    ----------
    answer : LayAnswer
        What was found for the choice.
    plain : LayAnswer
        What is laid without it.

    Returns
    -------
    LayAnswer
        For the choice; so what allows more is never told to cost more.
    """
    if not plain.found:
        return answer
    carried = carried_lay(plain.problem, plain.lay, to=answer.problem)
    if carried is None or (answer.found and answer.lay.length_mm < carried.length_mm - ALIKE_MM):
        return answer
    least = min(answer.lay.bound_mm, carried.length_mm)
    lay = replace(
        carried, why=NOTHING_SHORTER, bound_mm=least, seconds=answer.lay.seconds,
        seed=answer.lay.seed,
    )  # fmt: skip
    return LayAnswer(answer.problem, lay)


def _luck(answer: LayAnswer, plain: LayAnswer) -> str:
    """Return a sentence where a choice that allows less came out shorter."""
    if answer.lay.length_mm >= plain.lay.length_mm - ALIKE_MM:
        return ""
    back = carried_lay(answer.problem, answer.lay, to=plain.problem)
    shorter = back is not None and back.length_mm < plain.lay.length_mm - ALIKE_MM
    return PLAIN_TOO if shorter else ""


def tilted_names(answer: LayAnswer) -> list[str]:
    """Return the pieces of a lay that lie tilted off their grain.

    Parameters
    ----------
    answer : LayAnswer
        The lay.

    Returns
    -------
    list of str
        Names with the number of the copy, as drawings show them, in the order of the lay.
    """
    pieces = {piece.name: piece for piece in answer.problem.pieces}
    return [
        f"{one.piece} {one.copy + 1}"
        for one in answer.lay.placements
        if off_grain_deg(pieces[one.piece], angle_deg=one.angle_deg) != 0.0
    ]
