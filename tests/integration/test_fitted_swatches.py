"""Swatches of the store find their way into fitted pieces, by label and by key."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from tests.swatches import plain_seam

from samite.project.model import JobPiece
from samite.services.fitted_swatches import with_swatches
from samite.services.job_pieces import stretched_of
from samite.services.journal import Entry, record_swatch
from samite.services.past import past_of
from samite.services.piece_ask import PieceAsk
from samite.swatch.seen import Finding, Sign

DAY = date(2031, 2, 3)
POPLIN = "100% cotton poplin, 120 g/m2"


def test_a_kept_cloth_brings_its_stretched_swatches_to_pieces_and_jobs(tmp_path: Path) -> None:
    store = tmp_path / "store.sqlite"
    bare = PieceAsk("fitted-skirt", cloth=POPLIN)
    assert with_swatches(bare, store) is bare
    crack = (Finding(Sign.CRACKED, stretch_percent=2.6),)
    kept = record_swatch(store, Entry(POPLIN, DAY, crack, sew=plain_seam()), DAY)
    record_swatch(store, Entry(POPLIN, DAY, (Finding(Sign.PUCKERED),), sew=plain_seam()), DAY)
    found = with_swatches(bare, store)
    assert [one.findings for one in found.swatches] == [crack]
    by_key = with_swatches(PieceAsk("fitted-skirt", cloth=kept["cloth"]["key"]), store)
    assert by_key == found
    other = PieceAsk("circle-skirt", cloth=POPLIN)
    assert with_swatches(other, store) is other
    assert with_swatches(other, store, ["fitted-bodice"]).swatches == found.swatches
    job = JobPiece("skirt", "fitted-skirt", "poplin")
    assert stretched_of(job, past_of(store, POPLIN)) == found.swatches
    assert stretched_of(job, None) == ()
