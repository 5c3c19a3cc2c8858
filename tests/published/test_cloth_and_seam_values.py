"""Values of cloth and seam that sources print, beyond the check rows, each with its source."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from samite.cloth.conductivity import parallel_share, series_conductivity_w_mk
from samite.kernel.units import convert
from samite.seam.consumption import needle_thread_share, thread_ratio
from samite.seam.needle_size import needle_size, needles_used, perforation_share, size_for_thread_nm
from samite.seam.stretch import stretch_needed_percent, zigzag_width_mm
from samite.seam.thread_size import resultant_tex, thread_diameter_mm, thread_strength_n

INCH_MM = 25.4

# A. K. Das 2015 and other textile-education pages: thread in inches for an inch of seam, from
# stitches an inch S, thickness T and width W in inches. 504 prints 3 on two pages, 5 on another.
FORMULAS: dict[str, Callable[[float, float, float], float]] = {
    "101": lambda s, t, w: 3 + 2 * t * s + 0 * w,
    "301": lambda s, t, w: 2 + 2 * t * s + 0 * w,
    "401": lambda s, t, w: 4 + 2 * t * s + 0 * w,
    "406": lambda s, t, w: 7 + 2 * s * (t + w),
    "407": lambda s, t, w: 9 + 2 * s * (3 * t + w),
    "504": lambda s, t, w: 3 + 4 * s * (w + t),
    "514": lambda s, t, w: 5 + 2 * s * (3 * t + 2 * w),
    "516": lambda s, t, w: 9 + 2 * s * (2 * w + 3 * t),
    "602": lambda s, t, w: 8 + s * (5 * w + 4 * t),
    "605": lambda s, t, w: 10 + 2 * s * (2 * w + 3 * t),
    "607": lambda s, t, w: 12 + 4 * s * (w + 2 * t),
}


@pytest.mark.parametrize("stitch_type", FORMULAS)
@pytest.mark.parametrize(("spi", "thickness_in", "width_in"), [(9, 0.005, 0.0), (12, 0.04, 0.25)])
def test_the_thread_ratio_is_that_of_the_published_formula(
    stitch_type: str, spi: float, thickness_in: float, width_in: float
) -> None:
    found = thread_ratio(
        stitch_type=stitch_type,
        thickness_mm=thickness_in * INCH_MM,
        stitch_length_mm=INCH_MM / spi,
        width_mm=width_in * INCH_MM,
    )
    assert found == pytest.approx(FORMULAS[stitch_type](spi, thickness_in, width_in))


@pytest.mark.parametrize(
    ("stitch_type", "percent"),
    [("101", 100), ("301", 50), ("304", 50), ("406", 30), ("516", 20), ("602", 20), ("605", 30)],
)
def test_the_needle_share_is_that_of_the_table(stitch_type: str, percent: float) -> None:
    # A thread maker's ratio table "at 7 stitches/cm", from memory for the complete rows.
    found = needle_thread_share(
        stitch_type=stitch_type, thickness_mm=1.0, stitch_length_mm=10.0 / 7.0, width_mm=5.0
    )
    assert 100.0 * found == pytest.approx(percent)


@pytest.mark.parametrize(
    ("nm", "us"),
    # Needle charts; 55/7, 85/13 and 130/21 from memory.
    [(55, 7), (60, 8), (65, 9), (70, 10), (75, 11), (80, 12), (85, 13), (90, 14), (100, 16),
     (110, 18), (120, 19), (130, 21)],
)  # fmt: skip
def test_the_us_size_is_that_of_the_charts(nm: int, us: int) -> None:
    assert needle_size(size_nm=nm).size_us == us


@pytest.mark.parametrize(
    ("tex", "published_nm"),
    [
        (25, 75),  # "40 wt = 240 den = Tex 25" with 75/11
        (40, 90),  # ASTM D1683, Table 1
        (45, 90),  # ISO 13936, from memory
        (90, 120),  # a car maker's seam test
    ],
)
def test_the_needle_for_a_thread_is_at_most_one_size_from_the_published_pair(
    tex: float, published_nm: int
) -> None:
    sizes = [55, 60, 65, 70, 75, 80, 85, 90, 100, 110, 120, 130]
    diameter = thread_diameter_mm(linear_density_tex=tex, fibre_density_g_cm3=1.383)
    found = size_for_thread_nm(thread_diameter_mm=diameter)
    assert abs(sizes.index(found) - sizes.index(published_nm)) <= 1


def test_no_120_thread_is_three_plies_of_nm_120() -> None:
    # German sewing-thread encyclopaedia: No. 120 is Nm 120/3, resultant Nm 40.
    found = resultant_tex(ply_tex=convert(120.0, "Nm", "tex"), plies=3)
    assert convert(found, "tex", "Nm") == pytest.approx(40.0)
    assert convert(found, "tex", "tkt") == pytest.approx(120.0)


@pytest.mark.parametrize(("tex", "tenacity", "lbf"), [(27, 36.2, 2.2), (24, 48.2, 2.6)])
def test_a_thread_breaks_at_the_force_that_the_bulletin_prints(
    tex: float, tenacity: float, lbf: float
) -> None:
    # Thread maker's bulletin on stitches per inch: spun Tex 27 2.2 lbf, core-spun Tex 24 2.6 lbf.
    found = thread_strength_n(tenacity_cn_tex=tenacity, linear_density_tex=tex)
    assert convert(found, "N", "lbf") == pytest.approx(lbf, abs=0.01)


@pytest.mark.parametrize(
    ("nm", "length", "share"), [(90, 1.5, 0.60), (90, 2.5, 0.36), (60, 2.0, 0.30)]
)
def test_the_perforation_is_blade_over_stitch_length(nm: int, length: float, share: float) -> None:
    # Arithmetic: 0.90 mm in 1.5 mm and so on.
    assert perforation_share(size_nm=nm, stitch_length_mm=length) == pytest.approx(share)


def test_a_needle_lasts_the_eight_hours_that_pages_recommend() -> None:
    # Three pages: a new needle every 8 h. A quarter of the time running at 400 a minute: guess.
    pierced = int(8 * 60 * 0.25 * 400)
    assert needles_used(penetrations=pierced) == 1
    assert needles_used(penetrations=2 * pierced) == 2


@pytest.mark.parametrize(
    ("fibre_density", "pad", "solid", "share"),
    [
        (1.52, 0.071, 0.243, 0.56),
        (1.31, 0.054, 0.165, 0.39),
        (1.31, 0.054, 0.193, 0.30),
        (1.31, 0.054, 0.223, 0.24),
        (1.34, 0.050, 0.118, 0.56),
    ],
)
def test_the_parallel_share_of_the_published_pads(
    fibre_density: float, pad: float, solid: float, share: float
) -> None:
    # Pads of cotton, wool and silk at 0.5 g/cm3 (lecture notes, same numbers as Morton and
    # Hearle); conductivity across the fibre after Kawabata and Rengasamy 2002 (from memory) and
    # Baxter 1946. The shares were computed by hand from these: consistency, not prediction.
    mixture = {
        "fibre_conductivity_w_mk": solid,
        "air_conductivity_w_mk": 0.026,
        "packing": 0.5 / fibre_density,
    }
    assert parallel_share(pad_conductivity_w_mk=pad, **mixture) == pytest.approx(share, abs=0.02)
    assert series_conductivity_w_mk(**mixture) < pad


@pytest.mark.parametrize(
    ("need", "length", "width"),
    [(25, 1.0, 0.54), (40, 1.5, 1.18), (50, 2.5, 2.32), (75, 2.0, 2.47), (100, 3.0, 4.56)],
)
def test_the_zigzag_width_for_a_stretch(need: float, length: float, width: float) -> None:
    # Geometry of the diagonal with a thread that gives 10 %, computed by hand.
    found = zigzag_width_mm(
        stretch_percent=need, stitch_length_mm=length, thread_extension_percent=10.0
    )
    assert found == pytest.approx(width, abs=0.006)


def test_a_knee_in_tights_needs_ease_and_movement_together() -> None:
    # Kirk and Ibrahim 1966 (from memory): 35 to 45 % along the knee. Cut 10 % short: 54 % at 40.
    found = stretch_needed_percent(negative_ease_percent=10.0, movement_percent=40.0)
    assert found == pytest.approx(1.1 * 1.4 * 100.0 - 100.0)
