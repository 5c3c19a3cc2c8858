"""The press window against brute force, and the boiling of water against balances."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from scipy import stats

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.kernel.quantity import Quantity
from samite.press import judge, window
from samite.press.batch import Batch, Phase, solve_batch
from samite.press.dials import Dial
from samite.press.draws import Draws, normal_cdf, normal_score
from samite.press.glass import softest_dry_transition, wet_glass_transition
from samite.press.layers import ReadingPlace
from samite.press.placements import PLACEMENTS, worst_scores
from samite.press.pressing import Placement, press
from samite.press.techniques import Technique, all_techniques

CASES = (
    ("polyester satin, 150 g/m2", Technique(Dial.MEDIUM, "none", "dry", "wrong")),
    ("100% nylon tricot knit, 160 g/m2", Technique(Dial.MEDIUM, "none", "none", "right")),
    ("wool flannel, 240 g/m2", Technique(Dial.MEDIUM, "none", "damp", "wrong")),
)
TIMES = tuple(float(t) for t in np.unique(np.round(np.geomspace(0.4, 45.0, 60), 3)))


class EachPlacement(Draws):
    """Doubts shared by 60 placements, and each placement's own phase of the thermostat."""

    def __init__(self, shared: Draws, phases: np.ndarray, swing_c: np.ndarray) -> None:
        super().__init__(shared.count * PLACEMENTS, shared.seed)
        self.shared, self.offset = shared, np.repeat(swing_c, PLACEMENTS) * np.sin(phases)

    def score(self, name: str) -> np.ndarray:
        return np.repeat(self.shared.score(name), PLACEMENTS)

    def of(self, name: str, quantity: Quantity) -> np.ndarray:
        drawn = super().of(name, quantity)
        return drawn + self.offset if name == "sole temperature at this dial" else drawn


def brute_force(
    seam: window.Seam, technique: Technique, shared: int, generator: np.random.Generator
) -> tuple[np.ndarray, np.ndarray]:
    """Draw everything, limits and all 60 placements included; count what happens."""
    bench = window.usual_bench("board")
    many = shared * PLACEMENTS
    common = Draws(shared, int(generator.integers(1 << 30)))
    swing = common.of("thermostat's swing", bench.iron.swing_c)
    each = EachPlacement(common, generator.uniform(0.0, 2.0 * math.pi, many), swing)
    contact = judge.PLACE_CONTACT.draws(generator, many)
    counted = judge.COUNTING.draws(generator, many)
    run = press(seam.plies, [Placement(technique, 0.0)], TIMES, bench, each, firmness=contact)
    seen = judge.read_run(run)
    times = np.array(run.seconds)
    own = np.clip(counted[:, None] * np.array(window.SECONDS), 0.0, times[-1])

    def at(history: np.ndarray) -> np.ndarray:
        return np.stack([np.interp(own[i], times, history[i]) for i in range(many)])

    hurt = np.zeros((shared, len(window.SECONDS)), dtype=bool)
    for part in seam.parts:
        place = f"{part.place}_dose" if part.scorches else part.place
        hottest = at(seen.temperatures[place]).reshape(shared, PLACEMENTS, -1).max(axis=1)
        hurt |= hottest > part.limit_c.draws(generator, shared)[:, None]
    (transition, accessible, _), *_ = judge.transitions(seam.cloth)
    dry = np.repeat(transition.draws(generator, shared), PLACEMENTS)[:, None]
    water, left = (
        judge.in_what_opens(share, accessible) for share in (seen.core_water, seen.core_let_go)
    )
    softest = softest_dry_transition(temperature_c=seen.temperatures["core"], water_share=water)
    let_go = softest_dry_transition(
        temperature_c=np.full_like(left, judge.LET_GO_C), water_share=left
    )
    soft = at(np.maximum.accumulate(softest, axis=1)) >= dry
    done = soft & (at(let_go) < dry)
    return done.mean(axis=0), hurt.mean(axis=0)


@pytest.mark.parametrize(("label", "technique"), CASES, ids=[case[0] for case in CASES])
def test_window_agrees_with_brute_force(
    label: str, technique: Technique, heavy: Callable[[int], int]
) -> None:
    seam = window.seam_of(build_cloth(read_label(label)))
    bench = window.usual_bench("board")
    found = window.press_chances(seam, [Placement(technique, 0.0)], bench, Draws(1000, 1))
    shared = max(heavy(1000), 100)
    sets, damage = brute_force(seam, technique, shared, np.random.default_rng(7))
    slack = 3.0 * np.sqrt(0.25 / shared)
    assert np.abs(found.chance_set - sets).max() < 0.06 + slack
    assert np.abs(found.chance_damage - damage).max() < 0.04 + slack


def test_screening_draws_agree_with_many_more() -> None:
    seam = window.seam_of(build_cloth(read_label("polyester satin, 150 g/m2")))
    passes = [Placement(CASES[0][1], 0.0)]
    few, many = (
        window.press_chances(seam, passes, window.usual_bench("board"), Draws(count, 1))
        for count in (96, 5_000)
    )
    assert np.abs(few.chance_set - many.chance_set).max() < 0.04
    assert np.abs(few.chance_damage - many.chance_damage).max() < 0.02


def wet_batch(water: float, layers: int = 1) -> Batch:
    shape = (1, layers)
    return Batch(
        np.full(shape, 0.3),
        np.full(shape, 0.06),
        np.full(shape, 5.6e5),
        20.0,
        20.0,
        0.0,
        water_kg_m2=np.full(shape, water),
    )


def test_wet_cloth_stays_at_100_until_its_water_is_gone_and_takes_its_heat() -> None:
    """259 kJ/m2 for 100 g/m2 from 20 C (energy balance, STEA012 to STEA013 of the check rows)."""
    times = list(np.arange(0.5, 40.0, 0.5))
    answer = solve_batch(
        wet_batch(0.1),
        [Phase(40.0, 150.0, 400.0)],
        times,
        [ReadingPlace(0, 0.5)],
        step_fineness=8.0,
    )
    water = answer.water_kg_m2[0, :, 0]
    wet = water > 0.6 * 0.1  # later a dry front has passed the middle from the iron's side
    assert np.all(answer.temperature_c[0, wet, 0] < 101.0)
    # at the plateau the sole gives h (150 - 100) at most; all of it boils water
    flux = -np.diff(water)[5:20] / 0.5 * 2.2565e6
    assert np.all(flux < 400.0 * 50.0 * 1.02)
    assert np.all(flux > 0.4 * 400.0 * 50.0)


def test_no_water_is_made() -> None:
    answer = solve_batch(
        wet_batch(0.05, layers=3),
        [Phase(30.0, 180.0, 500.0)],
        list(np.arange(1.0, 31.0)),
        [ReadingPlace(0, 0.5)],
    )
    total = answer.water_kg_m2[0].sum(axis=1)
    assert np.all(np.diff(total) <= 1e-12)
    assert np.all(answer.water_kg_m2 >= 0.0)
    assert answer.temperature_c.max() < 180.0


def test_hotter_dial_never_sets_less_and_never_harms_less() -> None:
    seam = window.seam_of(build_cloth(read_label("polyester crepe, 180 g/m2")))
    bench, draws = window.usual_bench("board"), Draws(200, 3)
    cool, warm = (
        window.press_chances(
            seam, [Placement(Technique(dial, "none", "dry", "wrong"), 0.0)], bench, draws
        )
        for dial in (Dial.LOW, Dial.MEDIUM)
    )
    assert np.all(warm.core_c >= cool.core_c - 0.2)
    assert np.all(warm.chance_damage >= cool.chance_damage - 1e-9)
    assert np.all(np.diff(warm.chance_damage) >= -1e-9)


def test_press_cloth_never_heats_faster() -> None:
    seam = window.seam_of(build_cloth(read_label("polyester crepe, 180 g/m2")))
    bench, draws = window.usual_bench("board"), Draws(200, 3)
    bare, covered = (
        window.press_chances(
            seam, [Placement(Technique(Dial.MEDIUM, "none", kind, "wrong"), 0.0)], bench, draws
        )
        for kind in ("none", "dry")
    )
    middle_and_hot = (slice(0, 3), slice(1, 3))
    # the slow tail may heat faster: the water of a press cloth steams into the seam
    assert np.all(covered.core_c[middle_and_hot] <= bare.core_c[middle_and_hot] + 1.5)


def test_there_are_54_techniques_and_hover() -> None:
    assert len(set(all_techniques())) == 55
    assert sum(technique.hovers for technique in all_techniques()) == 1


@pytest.mark.parametrize("share", [0.0, 0.5, 0.9, 1.0])
def test_worst_of_60_placements_against_drawing_them(share: float) -> None:
    generator = np.random.default_rng(11)
    shape = (40_000, PLACEMENTS)
    swing = math.sqrt(2.0) * share * np.sin(generator.uniform(0.0, 2.0 * math.pi, shape))
    rest = math.sqrt(1.0 - share**2) * generator.standard_normal(shape)
    worst = (swing + rest).max(axis=1)
    for quantile in (0.05, 0.5, 0.95):
        found = float(worst_scores(quantile, np.array(share)))
        assert found == pytest.approx(np.quantile(worst, quantile), abs=0.06)


def test_normal_distribution_against_scipy() -> None:
    score = np.linspace(-8.0, 8.0, 4001)
    assert np.abs(normal_cdf(score) - stats.norm.cdf(score)).max() < 2e-7
    share = np.linspace(0.001, 0.999, 999)
    assert np.abs(normal_score(share) - stats.norm.ppf(share)).max() < 1e-9


@pytest.mark.parametrize(("regain", "transition"), [(16.0, 67.0), (20.0, 50.0)])
def test_wet_wool_by_the_fox_relation(regain: float, transition: float) -> None:
    """Wortmann's wool: Fox with 447 K and 136 K (constants from memory, values computed)."""
    share = regain / (100.0 + regain)
    wet = wet_glass_transition(dry_c=447.0 - 273.15, water_share=share)
    assert wet == pytest.approx(transition, abs=1.5)
    back = softest_dry_transition(temperature_c=np.array(wet), water_share=np.array(share))
    assert float(back) == pytest.approx(447.0 - 273.15, abs=1e-6)
