"""Random costumes on random cloth: every lay that is handed out can be cut."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from samite.kernel.errors import SamiteError
from samite.lay.from_pieces import lay_problem
from samite.lay.problem import Match, Problem
from samite.lay.rules import LayRules
from samite.lay.verify import check_lay
from samite.pieces.finish import FinishedPiece
from samite.services.lay import solve_lay
from samite.services.lay_cases import costume_parts
from samite.services.piece import PieceAsk

SHAPES = (
    "tunic", "trousers", "sleeve", "bell-sleeve", "bishop-sleeve", "poet-sleeve", "gored-skirt",
    "circle-skirt", "cuff", "waistband", "standing-collar", "tabard", "godet", "peplum",
    "hood-two-piece", "hood-three-piece", "cone", "leggings", "bonnet-crown", "gathered-skirt",
)  # fmt: skip


def costume(rng: np.random.Generator) -> tuple[FinishedPiece, ...]:
    """Pieces of one to three shapes on a body: 3 to 12 of them, counted with their copies."""
    while True:
        names = rng.permutation(SHAPES)[: int(rng.integers(1, 4))]
        measures = {
            "stature": f"{rng.uniform(150.0, 195.0):.0f} cm",
            "waist_girth": f"{rng.uniform(58.0, 110.0):.0f} cm",
        }
        try:
            pieces = costume_parts([PieceAsk(str(name), measures) for name in names])[0]
        except SamiteError:
            continue  # a body that some shape refuses is another test's business
        if 3 <= sum(one.piece.copies for one in pieces) <= 12:
            return pieces


def cloth(rng: np.random.Generator, pieces: tuple[FinishedPiece, ...]) -> Problem:
    folded = bool(rng.random() < 0.4)
    along = float(rng.choice([0.0, 0.0, 0.0, 80.0, 320.0]))
    rules = LayRules(
        bool(rng.random() < 0.5), folded, str(rng.choice(["up", "down"])),
        float(rng.choice([0.0, 2.0, 6.0])), float(rng.choice([0.0, 10.0, 20.0])),
        0.0 if folded else along, 0.0 if folded or rng.random() < 0.5 else along,
    )  # fmt: skip
    width = float(rng.choice([900.0, 1120.0, 1400.0, 1500.0, 1600.0]))
    try:
        problem = lay_problem(pieces, rules, width)
    except SamiteError:
        problem = lay_problem(pieces, replace(rules, folded=False), width)
    flaws = tuple(
        ((x, y), (x + a, y), (x + a, y + b), (x, y + b))
        for x, y, a, b in (
            (rng.uniform(0.0, 2000.0), rng.uniform(0.0, width - 100.0), *rng.uniform(5.0, 90.0, 2))
            for _ in range(int(rng.integers(0, 4)))
        )
    )
    problem = replace(problem, holes=flaws)
    if problem.repeat_along_mm and len(problem.pieces) > 1:
        first, second = problem.pieces[:2]
        if first.mirror != "pairs" and second.mirror != "pairs":
            match = Match(first.name, (0.0, 0.0), second.name, (25.0, 10.0))
            problem = replace(problem, matches=(match,))
    return problem


def test_every_lay_of_random_costumes_can_be_cut(heavy: Callable[[int], int]) -> None:
    rng = np.random.default_rng(2031)
    laid = 0
    for _ in range(heavy(200)):
        problem = cloth(rng, costume(rng))
        answer = solve_lay(problem, seconds=0.3, seed=1)
        if not answer.found:
            assert answer.lay.status in {"infeasible", "out-of-time"}
            assert answer.lay.why
            continue
        laid += 1
        assert answer.refused == (), "the solver offered a lay that cannot be cut"
        assert check_lay(problem, answer.lay) == ()
        assert answer.lay.bound_mm <= answer.lay.length_mm + 1e-6
    assert laid > heavy(200) // 2
