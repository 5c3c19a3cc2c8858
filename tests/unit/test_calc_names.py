"""What a stranger writes is understood: names for numbers, US needle sizes, other units."""

from __future__ import annotations

import pytest

from samite.kernel.errors import OutOfRangeError, UnknownNameError
from samite.services.calc import calculate
from samite.tables.sewing import sewing_key


@pytest.mark.parametrize(
    ("kind", "text", "key"),
    [
        ("stitch", "ISO 301", "301"),
        ("stitch", "iso 4915 type 401", "iso 4915 type 401"),
        ("stitch", "type 514", "514"),
        ("stitch", "Zigzag", "304"),
        ("stitch", "three-step zigzag", "321"),
        ("stitch", "overlock", "overlock"),
        ("seam", "French", "SSae"),
        ("seam", "french seam", "SSae"),
        ("seam", "flat felled", "LSc"),
        ("seam", "ssa", "SSa"),
        ("movement", "seat across", "seat-across"),
    ],
)
def test_a_name_stands_for_its_key(kind: str, text: str, key: str) -> None:
    assert sewing_key(kind, text) == key


def test_the_thread_of_a_zigzag_by_name_is_that_of_304() -> None:
    asked = {"thickness": "1 mm", "stitch_length": "2 mm", "width": "4 mm"}
    named = calculate("thread-ratio", {"stitch_type": "zigzag", **asked})
    numbered = calculate("thread-ratio", {"stitch_type": "304", **asked})
    assert named.value == numbered.value


def test_an_unknown_stitch_is_refused_with_names() -> None:
    asked = {"stitch_type": "overlock", "thickness": "1 mm", "stitch_length": "2 mm"}
    with pytest.raises(UnknownNameError) as refused:
        calculate("thread-ratio", asked)
    assert "504 (three-thread overedge)" in refused.value.hint


@pytest.mark.parametrize("us", [8, 9, 10, 11, 12, 14, 16, 18, 19])
def test_metric_and_us_sizes_answer_each_other(us: int) -> None:
    # Needle charts print pairs: 60/8, 65/9, 70/10, 75/11, 80/12, 90/14, 100/16, 110/18, 120/19.
    metric = calculate("needle-metric-size", {"us_size": str(us)})
    assert calculate("needle-us-size", {"size": f"{metric.value:g}"}).value == us


def test_a_us_number_is_not_taken_for_a_metric_size() -> None:
    with pytest.raises(OutOfRangeError):
        calculate("needle-blade-diameter", {"size": "14"})
    with pytest.raises(OutOfRangeError):
        calculate("needle-metric-size", {"us_size": "15"})


def test_strength_a_metre_is_strength_a_centimetre() -> None:
    asked = {"stitch_length": "12 spi", "thread_strength": "2.6 lbf", "loop_factor": "1.5"}
    assert calculate("seam-strength", asked, "kN/m").value == pytest.approx(
        calculate("seam-strength", asked, "N/cm").value / 10.0
    )
