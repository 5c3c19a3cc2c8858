"""Small journals to try things on."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from tests.swatches import JPEG, TODAY, plain_press, plain_seam

from samite.garment.bench import Board, KeptIron, MeasuredDial
from samite.garment.stock import NeedlePacket, ThreadSpool
from samite.services.journal import Entry, bin_swatch, record_swatch, set_aside, turn_back
from samite.services.stock import keep_stock
from samite.store.kinds import KINDS
from samite.store.store import Store
from samite.swatch.seen import Finding, Sign, Sureness

VELVET = "silk velvet, 110 cm"


def entry(**changed: Any) -> Entry:
    given: dict[str, Any] = {
        "label": VELVET,
        "made_on": TODAY,
        "findings": (Finding(Sign.SET_FLAT), Finding(Sign.SHINE, Sureness.DOUBTFUL)),
        "press": plain_press(),
    }
    return Entry(**{**given, **changed})


def fill(place: Path) -> list[dict[str, Any]]:
    """Keep a bit of everything: stock, photos, one set aside, one in the bin, one undone."""
    dials = (MeasuredDial("low", (108.0, 121.5)), MeasuredDial("medium", (150.0,)))
    keep_stock(place, KeptIron("the heavy one", dials), TODAY)
    keep_stock(place, Board("sleeve board", "cotton on felt"), TODAY)
    keep_stock(place, NeedlePacket("stretch", 75, 5), TODAY)
    keep_stock(place, ThreadSpool("polyester", 27.0, 180.0, "ash grey"), TODAY)
    shrunk = (Finding(Sign.SHRUNK, shrunk_mm=1.5),)
    found = [
        record_swatch(
            place, entry(iron="The  Heavy One", photos=(JPEG + b"1", JPEG + b"2")), TODAY
        ),
        record_swatch(place, entry(board="sleeve board", photos=(JPEG + b"1",)), TODAY),
        record_swatch(place, entry(label="wool coating", findings=shrunk, note="ö · 3"), TODAY),
        record_swatch(
            place,
            entry(press=None, sew=plain_seam(tension=4.5), findings=(Finding(Sign.NOTHING),)),
            TODAY,
        ),
    ]
    set_aside(place, found[0]["key"], True, TODAY)
    bin_swatch(place, found[1]["key"], TODAY)
    record_swatch(place, entry(note="undone"), TODAY)
    turn_back(place)
    return found


def rows_of(place: Path) -> dict[str, Any]:
    """Everything that is kept, without the numbers of changes."""
    with Store(place, write=False) as store:
        found = {
            kind.table: sorted(
                store.database.run(f"SELECT key, binned_on, body FROM {kind.table}")  # noqa: S608
            )
            for kind in KINDS.values()
        }
        photos = {item[0] for item in found["photos"]}
        found["photo bytes"] = sorted((key, store.photos.read(key)) for key in photos)
        assert store.database.damage() == ""
    return found
