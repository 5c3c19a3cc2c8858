"""The press window against brute force, and the boiling of water against balances."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from scipy import stats

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.cloth.model import Cloth
from samite.press import window
from samite.press._scheme import VAPORISATION_J_KG
from samite.press.batch import Batch, Phase, solve_batch
from samite.press.dials import Dial
from samite.press.draws import Draws, normal_cdf, normal_score
from samite.press.glass import softest_dry_transition, wet_glass_transition
from samite.press.joint import build_joint, room_temperature, weaknesses
from samite.press.layers import ReadingPlace
from samite.press.placements import PLACEMENTS, worst_scores
from samite.press.techniques import Technique, all_techniques
from samite.tables.fibres import fibre
from samite.tables.press_tools import iron_setting

CASES = (
    ("polyester satin, 150 g/m2", Technique(Dial.MEDIUM, "none", "dry", "wrong")),
    ("100% nylon tricot knit, 160 g/m2", Technique(Dial.MEDIUM, "none", "none", "right")),
    ("acetate lining, 80 g/m2", Technique(Dial.MEDIUM, "none", "dry", "wrong")),
)


def brute_force(
    cloth: Cloth, technique: Technique, shared: int, generator: np.random.Generator
) -> tuple[np.ndarray, np.ndarray]:
    """Draw everything, limits and all 60 placements included; count what happens."""
    bench = window.usual_bench("board")
    joint = build_joint(cloth, technique, bench.press_cloth, bench.support)
    many = shared * PLACEMENTS

    def drawn(quantity: object) -> np.ndarray:
        return np.repeat(quantity.draws(generator, shared), PLACEMENTS)  # type: ignore[attr-defined]

    room = drawn(room_temperature())
    columns = [
        (
            drawn(layer.thickness_mm),
            drawn(layer.conductivity_w_mk),
            drawn(layer.heat_capacity_j_m3k),
            drawn(layer.dry_mass_gsm) / 1000.0,
            drawn(layer.regain_percent) / 100.0,
        )
        for layer in joint.layers
    ]
    thick, conduct, capacity, dry, regain = (np.stack([c[i] for c in columns], 1) for i in range(5))
    amplitude = drawn(bench.iron.swing_c)
    phase = generator.uniform(0.0, 2.0 * math.pi, many)
    sole = drawn(iron_setting(technique.iron.value).dial_c) + amplitude * np.sin(phase)
    contact = drawn(bench.iron.conductance_dry_w_m2k) * window.PLACE_CONTACT.draws(generator, many)
    counted = window.COUNTING.draws(generator, many)
    times = np.unique(np.round(np.geomspace(0.4, 45.0, 90), 3))
    batch = Batch(
        thick,
        conduct,
        capacity,
        room,
        room,
        5.0,
        water_kg_m2=regain * dry,
        vapour_layers=len(joint.layers) - 1,
    )
    places = [ReadingPlace(joint.core, 1.0), ReadingPlace(joint.face_layer, joint.face_depth)]
    answer = solve_batch(
        batch, [Phase(46.0, sole, contact)], list(times), places, fineness=0.5, step_fineness=2.0
    )
    plies = answer.peak_c[:, :, list(joint.plies)].max(axis=2)
    own = np.clip(counted[:, None] * np.array(window.SECONDS), times[0], times[-1])

    def at(history: np.ndarray) -> np.ndarray:
        return np.stack([np.interp(own[i], times, history[i]) for i in range(many)])

    ply = at(plies)
    core = answer.temperature_c[:, :, 0]
    layers = [joint.core, joint.core + 1]
    solid = dry[:, layers].sum(axis=1)[:, None]
    water = answer.water_kg_m2[:, :, layers].sum(axis=2)
    heat = (capacity * thick)[:, layers].sum(axis=1)[:, None] / 1000.0
    left = np.maximum(
        water - heat * np.maximum(core - window.LET_GO_C, 0.0) / VAPORISATION_J_KG, 0.0
    )
    softest = softest_dry_transition(temperature_c=core, water_share=water / (water + solid))
    let_go = softest_dry_transition(
        temperature_c=np.full_like(core, window.LET_GO_C), water_share=left / (left + solid)
    )
    hurt = np.zeros((shared, len(window.SECONDS)), dtype=bool)
    for part in weaknesses(cloth):
        assert part.place == "ply"
        limit = part.limit_c.draws(generator, shared)
        worst = ply.reshape(shared, PLACEMENTS, -1).max(axis=1)
        hurt |= worst > limit[:, None]
    transition = fibre(cloth.base.fibres[0].fibre).quantity("glass_transition_dry_c")
    dry_transition = drawn(transition)
    soft = at(np.maximum.accumulate(softest, axis=1)) >= dry_transition[:, None]
    done = soft & (at(let_go) < dry_transition[:, None])
    return done.mean(axis=0), hurt.mean(axis=0)


@pytest.mark.parametrize(("label", "technique"), CASES, ids=[case[0] for case in CASES])
def test_window_agrees_with_brute_force(
    label: str, technique: Technique, heavy: Callable[[int], int]
) -> None:
    cloth = build_cloth(read_label(label))
    found = window.press_chances(cloth, technique, window.usual_bench("board"), Draws(2000, 1))
    shared = max(heavy(3000), 300)
    sets, damage = brute_force(cloth, technique, shared, np.random.default_rng(7))
    slack = 3.0 * np.sqrt(0.25 / shared)
    assert np.abs(found.chance_set - sets).max() < 0.06 + slack
    assert np.abs(found.chance_damage - damage).max() < 0.04 + slack


def test_screening_draws_agree_with_a_hundred_times_as_many() -> None:
    cloth = build_cloth(read_label("polyester satin, 150 g/m2"))
    technique = CASES[0][1]
    few, many = (
        window.press_chances(cloth, technique, window.usual_bench("board"), Draws(count, 1))
        for count in (200, 20_000)
    )
    assert np.abs(few.chance_set - many.chance_set).max() < 0.04
    assert np.abs(few.chance_damage - many.chance_damage).max() < 0.02


def wet_batch(water: float, layers: int = 1, floor: int = 0) -> Batch:
    shape = (1, layers)
    return Batch(
        np.full(shape, 0.3),
        np.full(shape, 0.06),
        np.full(shape, 5.6e5),
        20.0,
        20.0,
        0.0,
        water_kg_m2=np.full(shape, water),
        vapour_layers=floor,
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
        wet_batch(0.05, layers=3, floor=3),
        [Phase(30.0, 180.0, 500.0)],
        list(np.arange(1.0, 31.0)),
        [ReadingPlace(0, 0.5)],
    )
    total = answer.water_kg_m2[0].sum(axis=1)
    assert np.all(np.diff(total) <= 1e-12)
    assert np.all(answer.water_kg_m2 >= 0.0)
    assert answer.temperature_c.max() < 180.0


def test_hotter_dial_never_sets_less_and_never_harms_less() -> None:
    cloth = build_cloth(read_label("polyester crepe, 180 g/m2"))
    bench, draws = window.usual_bench("board"), Draws(200, 3)
    cool, warm = (
        window.press_chances(cloth, Technique(dial, "none", "dry", "wrong"), bench, draws)
        for dial in (Dial.LOW, Dial.MEDIUM)
    )
    assert np.all(warm.core_c >= cool.core_c - 0.2)
    assert np.all(warm.chance_damage >= cool.chance_damage - 1e-9)
    assert np.all(np.diff(warm.chance_damage) >= -1e-9)


def test_press_cloth_never_heats_faster() -> None:
    cloth = build_cloth(read_label("polyester crepe, 180 g/m2"))
    bench, draws = window.usual_bench("board"), Draws(200, 3)
    bare, covered = (
        window.press_chances(cloth, Technique(Dial.MEDIUM, "none", kind, "wrong"), bench, draws)
        for kind in ("none", "dry")
    )
    early = slice(0, 3)
    assert np.all(covered.core_c[early] <= bare.core_c[early] + 0.2)


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
