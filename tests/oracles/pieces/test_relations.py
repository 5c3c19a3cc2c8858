"""Measures that hang together: the loop of the crotch against dense arcs, what is estimated against what was given."""

from __future__ import annotations

import itertools
import math
from types import MappingProxyType

import numpy as np
import pytest

from samite.garment.body import Body
from samite.pieces.measure_beliefs import beliefs, joint
from samite.pieces.measure_relations import GUESSED, RELATED, crotch_loop_mm, reconciled
from samite.pieces.measures import estimate
from samite.tables.body_relations import relation_value

BODY = MappingProxyType(
    {"stature": 1700.0, "bust_girth": 900.0, "waist_girth": 720.0, "hip_girth": 960.0}
)


def arc_mm(across: float, down: float, power: float) -> float:
    angle = np.linspace(0.0, math.pi / 2.0, 20001)
    x, y = across * np.cos(angle) ** (2.0 / power), down * np.sin(angle) ** (2.0 / power)
    return float(np.hypot(np.diff(x), np.diff(y)).sum())


@pytest.mark.parametrize(("drop", "rise", "depth"), [(200.0, 270.0, 235.0), (180.0, 280.0, 320.0)])
def test_the_crotch_is_as_long_as_the_curves_drawn(drop: float, rise: float, depth: float) -> None:
    deep = depth * relation_value("crotch_loop", "loop_depth").value
    share = relation_value("crotch_loop", "loop_front_share").value
    slant = relation_value("crotch_loop", "loop_slant").value
    drawn = sum(arc_mm(part * deep, rise - drop, 1.7) for part in (share, 1.0 - share))
    found = crotch_loop_mm(waist_to_hip_mm=drop, body_rise_mm=rise, hip_depth_mm=depth)
    assert found == pytest.approx(2.0 * slant * drop + drawn, abs=6.0)


def test_a_given_measure_stands_and_narrows_the_others() -> None:
    means, spread = joint(beliefs("women", BODY), RELATED)
    rise = RELATED.index("body_rise")
    free = reconciled(means, spread, {})
    for name in ("inside_leg_length", "hip_height", "hip_depth"):
        k = RELATED.index(name)  # surveyed: left alone
        assert free[0][k] == pytest.approx(means[k], abs=1e-9)
        assert free[1][k] == pytest.approx(math.sqrt(spread[k][k]), rel=1e-9)
    kept = reconciled(means, spread, {"body_rise": 300.0})
    assert kept[0][rise] == pytest.approx(300.0)
    assert kept[1][rise] == pytest.approx(0.0, abs=1e-3)
    assert all(kept[1][k] <= 1.05 * free[1][k] + 1e-6 for k in range(len(RELATED)))


@pytest.mark.parametrize("group", ["women", "men", "adult", "girls"])
@pytest.mark.parametrize("given", [(), ("body_rise",), ("total_crotch_length", "waist_to_hip")])
def test_what_is_estimated_agrees(group: str, given: tuple[str, ...]) -> None:
    """Levels add up and the crotch closes, whatever of them was taken."""
    age = 9.0 if group == "girls" else None
    plain = {"stature": 1350.0} if age else dict(BODY)
    body = Body(MappingProxyType(plain), group, age)
    more = {name: 1.06 * estimate(body, name).value_mm for name in given}
    body = Body(MappingProxyType({**plain, **more}), group, age)
    at = {name: estimate(body, name) for name in RELATED}
    assert all(at[name].value_mm == more[name] for name in given)
    assert at["waist_height"].value_mm == pytest.approx(
        at["hip_height"].value_mm + at["waist_to_hip"].value_mm, abs=30.0
    )
    loop = crotch_loop_mm(
        waist_to_hip_mm=at["waist_to_hip"].value_mm, body_rise_mm=at["body_rise"].value_mm,
        hip_depth_mm=at["hip_depth"].value_mm,
    )  # fmt: skip
    assert at["total_crotch_length"].value_mm == pytest.approx(loop, abs=30.0)
    told = [at[name] for name in GUESSED if name not in given]
    assert all(one.spread_mm > 0.0 and "estimated" in one.told() for one in told)


def test_the_relations_join_every_pair_of_levels() -> None:
    """A body whose rise was taken 30 mm longer is believed to have a longer crotch as well."""
    body = Body(BODY, "women")
    rise = estimate(body, "body_rise").value_mm
    longer = Body(MappingProxyType({**BODY, "body_rise": rise + 30.0}), "women")
    found = [estimate(one, "total_crotch_length").value_mm for one in (body, longer)]
    assert 5.0 < found[1] - found[0] < 80.0
    assert len(set(itertools.chain(GUESSED))) == 4
