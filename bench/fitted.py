"""Fitted pieces: time of each garment, and seam errors against two plain ways to lay a surface flat.

Run ``OPENBLAS_NUM_THREADS=2 python bench/fitted.py``. Prints one line a claim. Times are of the
processor, so that other work on the machine counts less; the wall clock stands beside them.
"""

from __future__ import annotations

import time
from types import MappingProxyType

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu

from samite.garment.body import Body
from samite.pieces.fitted.bodice import bodice_plan, openings_of
from samite.pieces.fitted.measures import trunk_of
from samite.pieces.fitted.plan import Plan, lay_flat
from samite.pieces.fitted.strapless import strapless_plan
from samite.pieces.flatten.arap import free_step, rest_triangles, system_of
from samite.pieces.flatten.panels import mesh_panel
from samite.pieces.measures import estimate
from samite.pieces.shape import Values, fill_in
from samite.pieces.shapes.registry import fitted_shapes
from samite.pieces.surface.solve import solved_trunk

BODY = Body(
    MappingProxyType(
        {"stature": 1680.0, "bust_girth": 920.0, "waist_girth": 740.0, "hip_girth": 980.0}
    ),
    "women",
)
CLAIMS = (
    ("strapless, four panels", "fitted-strapless", {"panels": 4.0}, 0.5),
    ("full bodice with sleeve", "fitted-bodice", {"panels": 4.0}, 3.0),
    ("full bodice, the cloth decides", "fitted-bodice", {}, 3.0),
    ("stretch bodysuit", "fitted-bodysuit", {}, 8.0),
    ("skirt", "fitted-skirt", {}, 3.0),
    ("trousers", "fitted-trousers", {"panels": 3.0}, 3.0),
    ("leggings", "fitted-leggings", {}, 8.0),
)


def numbers(name: str, settings: dict[str, float]) -> Values:
    return fill_in(fitted_shapes()[name], settings, lambda m: estimate(BODY, m).value_mm)


def timed(name: str, settings: dict[str, float]) -> tuple[float, float]:
    """Best of three builds, warm: of the processor and of the wall clock [s]."""
    shape = fitted_shapes()[name]
    shape.build(numbers(name, settings))
    best = (np.inf, np.inf)
    for _ in range(3):
        wall, own = time.perf_counter(), time.process_time()
        shape.build(numbers(name, settings))
        best = min(best, (time.process_time() - own, time.perf_counter() - wall))
    return best


def conformal(points: np.ndarray, triangles: np.ndarray, across: np.ndarray) -> np.ndarray:
    """Lay a surface flat by least squares conformal maps, two far points held, area scaled true."""
    rest = rest_triangles(points, triangles, across)
    gradients = np.empty((len(triangles), 3, 2))
    gradients[:, 1:] = np.linalg.inv(rest.frames)
    gradients[:, 0] = -gradients[:, 1:].sum(axis=1)
    root = np.sqrt(rest.areas)
    count, m = len(points), len(triangles)
    rows, columns, values = [], [], []
    for corner in range(3):
        gx, gy = gradients[:, corner, 0] * root, gradients[:, corner, 1] * root
        u, v = triangles[:, corner], triangles[:, corner] + count
        for row, column, value in (
            (np.arange(m), u, gx), (np.arange(m), v, -gy),
            (m + np.arange(m), u, gy), (m + np.arange(m), v, gx),
        ):  # fmt: skip
            rows.append(row)
            columns.append(column)
            values.append(value)
    matrix = coo_matrix(
        (np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))),
        (2 * m, 2 * count),
    ).tocsc()
    low, high = int(np.argmin(points[:, 2])), int(np.argmax(points[:, 2]))
    held = np.array([low, high, low + count, high + count])
    at = np.array([0.0, 0.0, 0.0, float(np.linalg.norm(points[high] - points[low]))])
    free = np.setdiff1d(np.arange(2 * count), held)
    part, right = matrix[:, free], -(matrix[:, held] @ at)
    solved = np.zeros(2 * count)
    solved[held] = at
    solved[free] = splu((part.T @ part).tocsc()).solve(part.T @ right)
    flat = solved.reshape(2, count).T
    corner = flat[triangles]
    one, two = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
    area = 0.5 * float((one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]).sum())
    return flat * np.sqrt(float(rest.areas.sum()) / abs(area))


def errors(plan: Plan, way: str) -> tuple[float, dict[str, float]]:
    """Return the worst seam error and the girth errors of a way to lay flat [mm]."""
    if way == "samite":
        laid = lay_flat(plan)
        flats = {p.spec.name: (p.flat.mesh, p.flat.points) for p in laid.panels}
    else:
        flats = {}
        for spec in plan.panels:
            ready = mesh_panel(plan.surface, spec, mesh_mm=plan.mesh_mm)
            points = plan.surface.at(ready.uv[:, 0], ready.uv[:, 1])
            middle = ready.uv[ready.mesh.triangles].mean(axis=1)
            across = plan.surface.across(middle[:, 0], middle[:, 1])
            if way == "conformal":
                flat = conformal(points, ready.mesh.triangles, across)
            else:
                system = system_of(
                    rest_triangles(points, ready.mesh.triangles, across), len(points)
                )
                flat = ready.mesh.points
                for _ in range(60):
                    flat = free_step(system, flat)
            flats[spec.name] = (ready.mesh, flat)

    def run(place: tuple[str, str]) -> float:
        mesh, flat = flats[place[0]]
        line = (mesh.chains.get(place[1]), mesh.lines.get(place[1]))
        chain = line[0] if line[0] is not None else line[1]
        return float(np.linalg.norm(np.diff(flat[chain], axis=0), axis=1).sum())

    seams = max(abs(run(seam.first) - run(seam.second)) for seam in plan.seams)
    girths = {}
    for name, row in plan.panels[0].rows.items():
        total = sum(
            run((spec, key)) for spec, (mesh, _) in flats.items() for key in mesh.lines
            if key.rsplit(" ", 1)[0] == name
        )  # fmt: skip
        girths[name] = 2.0 * (total - plan.surface.row_length_mm(row))
    return seams, girths


def main() -> None:
    for words, name, settings, allowed in CLAIMS:
        own, wall = timed(name, settings)
        verdict = "holds" if own < allowed else "DOES NOT HOLD"
        print(
            f"{words:32} {own:6.2f} s of the processor, {wall:6.2f} s; under {allowed:g} s {verdict}"
        )
    v = numbers("fitted-bodice", {})
    solved = solved_trunk(trunk_of(v))
    plans = (
        ("strapless 2 + 2", strapless_plan(solved, numbers("fitted-strapless", {}), 2, 2, 15.0)),
        ("bodice 2 + 2", bodice_plan(solved, openings_of(solved, v), v, 2, 2, 15.0)),
    )
    for words, plan in plans:
        for way in ("conformal", "free", "samite"):
            seam, girths = errors(plan, way)
            told = ", ".join(f"{key} {off:+.1f}" for key, off in girths.items())
            print(f"{words:16} {way:10} worst seam {seam:6.2f} mm; girths off by {told} mm")
    for mesh in (30.0, 20.0, 15.0, 10.0, 7.0):
        began = time.process_time()
        laid = lay_flat(strapless_plan(solved, numbers("fitted-strapless", {}), 2, 2, mesh))
        worst = max(max(one.warp[1], one.weft[1]) for one in laid.whole)
        print(
            f"mesh {mesh:4.0f} mm: worst pull {100 * worst:.2f} %, natural ease"
            f" {laid.eases[0].ease_mm:.2f} mm, {time.process_time() - began:.2f} s"
        )


if __name__ == "__main__":
    main()
