"""Which question each check row of sewing times asks of the product."""

from __future__ import annotations

from tests.published.ask import ask

from samite.seam.minutes import machine_rate_m_per_min
from samite.work.minutes import (
    hand_over_machine,
    hand_rate_m_per_h,
    minutes_of_tmu,
    seconds_per_stitch,
    standard_minutes,
    work_rate_m_per_h,
)

ASKED_MINUTES = {
    "M01": ask(
        machine_rate_m_per_min,
        "yd/min",
        stitches_per_min="5000 st/min",
        stitch_length_mm="8/in",
    ),
    "M03": ask(
        standard_minutes,
        cycle_min="0.60 min",
        rating="0.8",
        bundle_percent="10 %",
        personal_percent="20 %",
    ),
    "M04": ask(minutes_of_tmu, tmu="400"),
    "M06": ask(minutes_of_tmu, "s", tmu="17"),
    "M07": ask(work_rate_m_per_h, worked_length_m="15 yd", worked_time_h="4 h"),
    "M09": ask(hand_over_machine, hand_time_min="995 min", machine_time_min="158 min"),
    "M11": ask(hand_rate_m_per_h, stitches_per_min="23 st/min", stitch_length_mm="2 mm"),
    "M13": ask(seconds_per_stitch, worked_time_s="335 s", stitches="20"),
    "M14": ask(machine_rate_m_per_min, stitches_per_min="300 st/min", stitch_length_mm="2.5 mm"),
}
"""Questions by the row."""
