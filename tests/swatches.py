"""Swatches, cloths, irons and stock drawn at random, all of them possible."""

from __future__ import annotations

from datetime import date
from typing import Any

from hypothesis import strategies as st

from samite.garment.bench import DIALS, Board, KeptIron, MeasuredDial, StripReading
from samite.garment.stock import KeptCloth, NeedlePacket, ThreadSpool
from samite.press.dials import Dial
from samite.press.techniques import CLOTHS, SIDES
from samite.store.kinds import MEDIA, Photo
from samite.swatch.seen import Finding, Sign, Sureness
from samite.swatch.trial import HOLDS, PIECES, SUPPORTS, TRIED_STEAMS, PressTrial, SewTrial, Swatch

TODAY = date(2031, 2, 3)
JPEG = b"\xff\xd8\xff"
"""First bytes of a JPEG photo."""

TEXTS = st.text(st.characters(exclude_characters="\x00", exclude_categories=("Cs",)), max_size=40)
WORDS = TEXTS.filter(lambda text: bool(text.strip()))
DAYS = st.dates(date(1990, 1, 1), TODAY)


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


@st.composite
def pressings(draw: st.DrawFn, keys: dict[str, str] | None = None) -> PressTrial:
    steam = draw(st.sampled_from(TRIED_STEAMS))
    dials = list(Dial) if steam == "hover" else list(Dial)[1:]
    hold = draw(st.sampled_from(HOLDS))
    return PressTrial(
        dial=draw(st.sampled_from(dials)),
        steam=steam,
        press_cloth="none" if steam == "hover" else draw(st.sampled_from(CLOTHS)),
        side=draw(st.sampled_from(SIDES)),
        seconds=draw(numbers(0.1, 600.0)),
        sole_c=draw(st.none() | numbers(20.0, 260.0)),
        hold_tool=hold,
        hold_seconds=0.0 if hold == "none" else draw(numbers(0.0, 3600.0)),
        support=draw(st.sampled_from(SUPPORTS)),
        piece=draw(st.sampled_from(PIECES)),
        **(keys or {}),
    )


@st.composite
def seams(draw: st.DrawFn) -> SewTrial:
    return SewTrial(
        layers=draw(st.integers(1, 30)),
        needle_point=draw(WORDS),
        needle_size_nm=draw(st.integers(30, 250)),
        thread_fibre=draw(WORDS),
        thread_tex=draw(numbers(3.0, 400.0)),
        stitch_type=draw(st.sampled_from(["301", "304", "504", "514"])),
        stitch_length_mm=draw(numbers(0.2, 15.0)),
        stitch_width_mm=draw(numbers(0.0, 15.0)),
        tension=draw(st.none() | numbers(0.0, 100.0)),
        stretch_percent=draw(st.none() | numbers(0.5, 500.0)),
    )


@st.composite
def findings(draw: st.DrawFn, *, pressed: bool, sewn: bool) -> tuple[Finding, ...]:
    signs = [
        sign
        for sign in Sign
        if sign is not Sign.NOTHING
        and ((pressed and sign.by_pressing) or (sewn and sign.by_sewing))
    ]
    chosen = draw(st.lists(st.sampled_from(signs), unique=True, max_size=4)) or [Sign.NOTHING]
    return tuple(
        Finding(
            sign,
            draw(st.sampled_from(Sureness)),
            draw(numbers(0.1, 100.0)) if sign is Sign.SHRUNK else None,
            draw(numbers(0.5, 500.0)) if sign is Sign.CRACKED else None,
        )
        for sign in chosen
    )


@st.composite
def swatches(
    draw: st.DrawFn, cloth_key: str = "cloth", keys: dict[str, str] | None = None
) -> Swatch:
    press = draw(st.none() | pressings(keys))
    sew = draw(seams() if press is None else st.none() | seams())
    return Swatch(
        cloth_key=cloth_key,
        made_on=draw(DAYS),
        findings=draw(findings(pressed=press is not None, sewn=sew is not None)),
        press=press,
        sew=sew,
        note=draw(TEXTS),
        maker=draw(TEXTS),
        set_aside=draw(st.booleans()),
    )


@st.composite
def irons(draw: st.DrawFn) -> KeptIron:
    positions = draw(st.lists(st.sampled_from(DIALS), unique=True))
    readings = st.lists(numbers(20.0, 260.0), min_size=1, max_size=3).map(tuple)
    marks = st.tuples(numbers(20.0, 150.0), numbers(160.0, 320.0))
    strips = st.lists(marks.map(lambda pair: StripReading(*pair)), max_size=2).map(tuple)
    dials = tuple(MeasuredDial(one, draw(readings), draw(strips)) for one in positions)
    return KeptIron(draw(WORDS), dials, draw(TEXTS))


def values() -> st.SearchStrategy[Any]:
    """Anything that is kept."""
    return st.one_of(
        swatches(),
        irons(),
        st.builds(KeptCloth, WORDS, TEXTS, TEXTS),
        st.builds(Board, WORDS, TEXTS, TEXTS),
        st.builds(NeedlePacket, WORDS, st.integers(30, 250), st.integers(0, 1000), TEXTS),
        st.builds(ThreadSpool, WORDS, numbers(3.0, 400.0), numbers(0.0, 1e6), TEXTS, TEXTS),
        st.builds(Photo, st.sampled_from(sorted(MEDIA)), st.integers(1, 10_000)),
    )


def plain_press(**changed: Any) -> PressTrial:
    given: dict[str, Any] = {
        "dial": Dial.LOW,
        "steam": "none",
        "press_cloth": "dry",
        "side": "wrong",
        "seconds": 4.0,
    }
    return PressTrial(**{**given, **changed})


def plain_seam(**changed: Any) -> SewTrial:
    given: dict[str, Any] = {
        "layers": 2,
        "needle_point": "stretch",
        "needle_size_nm": 75,
        "thread_fibre": "polyester",
        "thread_tex": 27.0,
        "stitch_type": "301",
        "stitch_length_mm": 2.5,
    }
    return SewTrial(**{**given, **changed})


def plain_swatch(cloth_key: str = "cloth", **changed: Any) -> Swatch:
    given: dict[str, Any] = {
        "cloth_key": cloth_key,
        "made_on": TODAY,
        "findings": (Finding(Sign.SET_FLAT),),
        "press": plain_press(),
    }
    return Swatch(**{**given, **changed})
