"""Statistics and size tables of bodies against the numbers that their sources print."""

from __future__ import annotations

import itertools
from types import MappingProxyType

import pytest

from samite.garment.body import Body
from samite.pieces.measure_doubts import find_doubts
from samite.pieces.measures import check_possible, estimate, estimated_measure
from samite.tables.bodies import (
    bust_class_edges_cm,
    child_measure,
    measure_entries,
    population,
    size_girth,
)

pytestmark = pytest.mark.published

# NATICK/TR-15/007, public data file: mean and standard deviation in cm, women then men.
SURVEY = {
    "stature": ((162.85, 6.42), (175.62, 6.86)),
    "upper_arm_girth": ((30.56, 3.08), (35.81, 3.46)),
    "wrist_girth": ((15.48, 0.78), (17.59, 0.90)),
    "thigh_girth": ((61.61, 5.58), (62.51, 5.85)),
    "head_girth": ((56.11, 1.94), (57.44, 1.60)),
    "shoulder_length": ((13.54, 1.03), (14.98, 1.05)),
    "cervicale_height": ((139.57, 5.95), (151.73, 6.33)),
    "inside_leg_length": ((78.23, 4.46), (84.59, 4.65)),
    "hip_depth": ((23.29, 2.43), (24.58, 2.65)),
    "navel_girth": ((86.09, 9.99), (94.06, 11.17)),
}


@pytest.mark.parametrize("name", SURVEY)
@pytest.mark.parametrize(("index", "group"), [(0, "women"), (1, "men")])
def test_a_body_of_which_nothing_is_known_is_the_survey_mean(
    name: str, index: int, group: str
) -> None:
    mean, sd = SURVEY[name][index]
    found = estimate(Body(MappingProxyType({}), group), name)
    assert found.value_mm == pytest.approx(10.0 * mean, abs=1.0)
    assert found.spread_mm == pytest.approx(10.0 * sd, rel=0.03)
    assert not found.given
    assert found.told().startswith("estimated, +- ")


# The same file: residual standard deviations of regressions on stature, bust, waist (navel), hip, cm.
RESIDUALS = {
    "neck_base_girth": (1.38, 1.67),
    "upper_arm_girth": (1.72, 1.99),
    "wrist_girth": (0.57, 0.63),
    "thigh_girth": (1.90, 1.89),
    "arm_length": (1.79, 1.83),
    "head_girth": (1.81, 1.39),
}


@pytest.mark.parametrize("name", RESIDUALS)
@pytest.mark.parametrize(("index", "group"), [(0, "women"), (1, "men")])
def test_four_leading_measures_leave_the_residual_of_the_regression(
    name: str, index: int, group: str
) -> None:
    known = {"stature": 1700.0, "bust_girth": 960.0, "navel_girth": 880.0, "hip_girth": 1010.0}
    found = estimate(Body(MappingProxyType(known), group), name)
    assert found.spread_mm == pytest.approx(10.0 * RESIDUALS[name][index], rel=0.05)


def test_the_regression_is_that_of_the_source() -> None:
    # Women, thigh: -3.37549 -0.0388 stature -0.01882 bust +0.01349 waist +0.70434 hip, in cm.
    known = {"stature": 1650.0, "bust_girth": 950.0, "navel_girth": 860.0, "hip_girth": 1020.0}
    wanted = -3.37549 - 0.0388 * 165 - 0.01882 * 95 + 0.01349 * 86 + 0.70434 * 102
    found = estimate(Body(MappingProxyType(known), "women"), "thigh_girth")
    assert found.value_mm == pytest.approx(10.0 * wanted, abs=1.0)


@pytest.mark.parametrize("group", ["women", "men"])
def test_the_solved_correlations_reproduce_the_variances_that_the_source_prints(group: str) -> None:
    people = population(group)
    for name, line in people.lines.items():
        if name not in SURVEY:
            continue
        explained = sum(
            a * b * people.covariance_mm2[i][j]
            for i, a in enumerate(line.slopes)
            for j, b in enumerate(line.slopes)
        )
        sd = 10.0 * SURVEY[name][0 if group == "women" else 1][1]
        assert explained + line.residual_mm**2 == pytest.approx(sd**2, rel=0.02), name


def test_the_tailors_waist_is_not_the_surveys() -> None:
    # The survey measures at the navel; a dress-form table of the same bust is much smaller there.
    bust = 10.0 * 2.54 * size_girth(measure="bust_girth", size="10").value
    body = Body(MappingProxyType({"bust_girth": bust}), "women")
    gap = estimate(body, "navel_girth").value_mm - estimate(body, "waist_girth").value_mm
    assert 30.0 < gap < 90.0


@pytest.mark.parametrize(
    ("measure", "size", "inches"),
    [("bust_girth", "8", 36.25), ("underbust_girth", "8", 30.0), ("neck_base_girth", "8", 14.625),
     ("upper_chest_girth", "8", 35.875), ("waist_girth", "8", 29.5), ("bust_girth", "20", 46.0)],
)  # fmt: skip
def test_girths_of_a_size_are_those_of_the_table(measure: str, size: str, inches: float) -> None:
    assert size_girth(measure=measure, size=size).value == inches  # ASTM D5585-11e1


def test_bust_classes_step_by_four_then_by_six() -> None:
    edges = bust_class_edges_cm()  # EN 13402-3 in a package's manual
    steps = [round(b - a, 6) for a, b in itertools.pairwise(edges)]
    assert edges[0] == 74.0
    assert edges[-1] == 131.0
    assert steps == [4.0] * 7 + [5.0] + [6.0] * 4


@pytest.mark.parametrize(
    ("group", "age", "statistic", "cm"),
    [("girls", 6.5, "p50", 122.2), ("boys", 6.0, "p50", 122.7), ("girls", 10.0, "p95", 163.4),
     ("boys", 15.0, "mean", 171.1), ("girls", 18.0, "p5", 150.4)],
)  # fmt: skip
def test_statures_of_children_are_those_of_the_table(
    group: str, age: float, statistic: str, cm: float
) -> None:
    found = child_measure(measure="stature", group=group, age_years=age, statistic=statistic)
    assert found.value == cm  # NCHS 3(50)


def test_a_child_is_the_table_and_scales_with_its_own_stature() -> None:
    body = Body(MappingProxyType({}), "girls", 6.0)
    assert estimate(body, "stature").value_mm == 1222.0
    assert estimate(body, "upper_arm_girth").value_mm == pytest.approx(191.0)
    tall = Body(MappingProxyType({"stature": 1344.2}), "girls", 6.0)
    assert estimate(tall, "upper_arm_girth").value_mm == pytest.approx(191.0 * 1.1)


@pytest.mark.parametrize(
    ("name", "typed_mm", "slip"),
    [
        ("thigh_girth", 585.0 / 2.54, "inches written as centimetres"),
        ("waist_girth", 370.0, "a girth measured on the half"),
        ("upper_arm_girth", 115.0, "inches written as centimetres"),
        ("hip_girth", 490.0, "a girth measured on the half"),
    ],
)
def test_a_slip_of_the_tape_is_named(name: str, typed_mm: float, slip: str) -> None:
    measures = {"stature": 1680.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}
    measures[name] = typed_mm
    (doubt,) = find_doubts(Body(MappingProxyType(measures), "women"))
    assert (doubt.name, doubt.slip) == (name, slip)
    assert "does not fit" in doubt.told()


def test_measures_that_fit_raise_no_doubt() -> None:
    measures = {"stature": 1680.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}
    assert find_doubts(Body(MappingProxyType(measures), "women")) == ()


def test_every_measure_says_how_to_take_it_and_can_be_estimated() -> None:
    for name, entry in measure_entries().items():
        assert len(entry.how.split()) > 3
        assert estimate(Body(MappingProxyType({}), "adult"), name).spread_mm > 0.0
        check_possible({name: (entry.min_mm + entry.max_mm) / 2.0})
    found = estimated_measure(measure="wrist_girth", group="men")
    assert found.low < 175.9 < found.high
