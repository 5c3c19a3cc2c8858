"""Whatever is asked about a joint, it is answered or refused in the one shape."""

from __future__ import annotations

import contextlib

from hypothesis import given
from hypothesis import strategies as st

from samite.kernel.errors import SamiteError
from samite.services.seam import SeamQuestion, make_seam
from samite.services.seam_json import seam_json
from samite.services.workroom import read_workroom

LABELS = st.sampled_from(
    [
        "silk organza",
        "velvet",
        "leather 2 mm",
        "power mesh",
        "sequins on mesh",
        "EVA foam 4 mm",
        "faux fur",
        "cloth",
        "guipure lace",
        "100% cotton, 5 g/m2",
        "wool, 3000 g/m2",
    ]
)
WORDS = st.one_of(
    st.text(max_size=20), st.sampled_from(["", "301", "514", "SSae", "bias", "tex 27"])
)


@given(
    labels=st.lists(LABELS, min_size=1, max_size=3),
    runs=WORDS,
    stitch=WORDS,
    form=WORDS,
    thread=WORDS,
    place=WORDS,
    ease=WORDS,
)
def test_any_question_is_answered_or_refused(
    labels: list[str], runs: str, stitch: str, form: str, thread: str, place: str, ease: str
) -> None:
    question = SeamQuestion(tuple(labels), "", "", runs, stitch, form, thread, place, ease)
    with contextlib.suppress(SamiteError):
        answer = seam_json(make_seam(question))
        assert answer["status"] in ("works", "compromise", "cannot")
        assert bool(answer["ways"]) is (answer["status"] != "cannot")
        assert answer["status"] == "works" or answer["why"]
        assert answer["ways"] or answer["nearest"], "the nearest thing that works is named"


@given(text=st.text(max_size=200))
def test_any_workroom_is_read_or_refused(text: str) -> None:
    with contextlib.suppress(SamiteError):
        assert read_workroom(text).makes("202")
    with contextlib.suppress(SamiteError):
        read_workroom(f'format = "samite.workroom.v1"\n{text}')


@given(
    table=st.sampled_from(["machine", "needle", "thread"]),
    key=st.sampled_from(["kind", "point", "size_nm", "tex", "ticket", "foot_lift", "stitches"]),
    value=st.one_of(
        st.integers(), st.floats(allow_nan=False), st.text(alphabet="abc 0", max_size=9)
    ),
)
def test_any_entry_of_a_workroom_is_read_or_refused(table: str, key: str, value: object) -> None:
    shown = f'"{value}"' if isinstance(value, str) else value
    with contextlib.suppress(SamiteError):
        read_workroom(f'format = "samite.workroom.v1"\n[[{table}]]\n{key} = {shown}')
