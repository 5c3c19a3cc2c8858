"""What holds, shapes and prepares: tape, bones, tissue, pattern paper, cloth of a test garment."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from samite.buy.line import BuyLine, bought_amount
from samite.buy.paper import roll_length_mm
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.reasons import Reason
from samite.project.model import Costume, Project
from samite.services.job_threads import Pairs
from samite.services.job_units import tape_words
from samite.services.lay_buy import usual_step_mm
from samite.services.piece_ask import PieceAnswer
from samite.tables.lay import lay_rule
from samite.tables.sewing import sewing_entries

PRACTICE = Evidence("common-practice", Grade.COMMON_PRACTICE)
COMPUTED = Evidence("derivation", Grade.DERIVED)
TAPES = ("stay-tape", "clear-elastic", "organza-strip")
CONSUMED = ("tissue", "wash-away", "basting-tape")
"""Aids of feeding that are used up along the seam."""

Pieces = Mapping[str, Sequence[PieceAnswer]]


def notion_lines(project: Project, pairs: Pairs, pieces: Pieces) -> list[BuyLine]:
    """Return the notions that follow from the pieces and the seam cards.

    Parameters
    ----------
    project : Project
        The job.
    pairs : mapping of str to sequence of (JobSeam, mapping or None)
        By costume: every seam with the seam card of its cloths.
    pieces : mapping of str to sequence of PieceAnswer
        By costume: what its shapes made.

    Returns
    -------
    list of BuyLine
        Tapes and aids of the seams, bones, paper.
    """
    return [
        *_seam_lines(project, pairs),
        *_bone_lines(project, pieces),
        *_paper_lines(project, pieces),
    ]


def priced_notions() -> tuple[str, ...]:
    """Return the notions that a list may hold without being asked for, as their prices name them.

    Returns
    -------
    tuple of str
        Names.
    """
    stays, aids = sewing_entries("stay"), sewing_entries("feed-aid")
    return (
        *("bobbin", "pattern paper", "test cloth", "boning", "boning channel"),
        *(stays[key].word("name") for key in TAPES),
        *(aids[key].word("name") for key in CONSUMED),
    )


def _seam_lines(project: Project, pairs: Pairs) -> list[BuyLine]:
    """Return tapes that stay seams and aids that are used up under them, by their metres."""
    metres: dict[str, float] = {}
    where: dict[str, dict[str, None]] = {}
    for costume in project.costumes:
        for seam, card in pairs.get(costume.name, ()):
            if card is None or seam.kind == "hem":
                continue
            for name in _along(card):
                length = seam.length_mm / 1000.0 * costume.copies
                metres[name] = metres.get(name, 0.0) + length
                where.setdefault(name, {})[" to ".join(dict.fromkeys(seam.cloths))] = None
    return [
        _metres_line(
            project, name, length, f"along the seams of {', '.join(where[name])}", COMPUTED
        )
        for name, length in metres.items()
    ]


def _along(card: Mapping[str, Any]) -> list[str]:
    stays = [
        str(one["name"])
        for one in card.get("additions", ())
        if one["role"] == "stay" and one["key"] in TAPES
    ]
    aids = [one for one in card.get("feed", {}).get("aids", ()) if one["key"] in CONSUMED]
    return [*stays, *(str(one["name"]) for one in aids[:1])]


def _bone_lines(project: Project, pieces: Pieces) -> list[BuyLine]:
    """Return bones of foundations, and their channels a little longer."""
    bones: dict[int, int] = {}
    for costume in project.costumes:
        for answer in pieces.get(costume.name, ()):
            for bone in answer.fit.report.bones if answer.fit else ():
                size = round(bone.length_mm / 5.0) * 5
                bones[size] = bones.get(size, 0) + bone.count * costume.copies
    if not bones:
        return []
    metres = sum(size * many for size, many in bones.items()) / 1000.0
    each = ", ".join(
        f"{many} of {tape_words(size, project.units)}" for size, many in sorted(bones.items())
    )
    channel = metres + sum(bones.values()) * 0.02
    return [
        _metres_line(project, "boning", metres, f"cut to {each}; round or cap the ends", COMPUTED),
        _metres_line(
            project, "boning channel", channel, "a bone and 10 mm at each of its ends", PRACTICE
        ),
    ]


def _paper_lines(project: Project, pieces: Pieces) -> list[BuyLine]:
    """Return paper to draw or trace every piece once."""
    width = lay_rule("paper", "roll_width_mm").value
    sizes = []
    for answers in pieces.values():
        for answer in answers:
            for one in answer.pieces:
                xs, ys = zip(*one.cut.points, strict=True)
                sizes.append((max(xs) - min(xs), max(ys) - min(ys)))
    if not sizes:
        return []
    length = roll_length_mm(sizes_mm=sizes, roll_width_mm=width) / 1000.0
    told = f"{len(sizes)} pieces, each once, on a roll {tape_words(width, project.units)} wide"
    return [
        _metres_line(
            project, "pattern paper", length, told, PRACTICE,
            ("tracing paper or cloth", "the pieces printed on sheets at one to one"),
        )
    ]  # fmt: skip


def _metres_line(
    project: Project,
    name: str,
    metres: float,
    why: str,
    evidence: Evidence,
    others: tuple[str, ...] = (),
) -> BuyLine:
    there = project.have.get(name, 0.0)
    buy = bought_amount(
        needed=metres, on_hand=there, increment=usual_step_mm(project.units) / 1000.0
    )
    return BuyLine(
        "notion", name, metres, "m", min(there, metres), buy, project.purse.prices.get(name),
        Reason(why, evidence=evidence), others or _other_names(name),
    )  # fmt: skip


def _other_names(name: str) -> tuple[str, ...]:
    """Return what the table names in the same role."""
    if name != sewing_entries("stay")["stay-tape"].word("name"):
        return ()
    return ("selvedge of a firm lining",)


def test_line(project: Project, costume: Costume, tried: Mapping[str, Any]) -> BuyLine | None:
    """Return the cloth of a test garment.

    Parameters
    ----------
    project : Project
        The job.
    costume : Costume
        The costume.
    tried : mapping of str to object
        Lay of its test garment.

    Returns
    -------
    BuyLine or None
        None if there is none.
    """
    length = tried["length_mm"]
    if not length:
        return None
    bought = project.cloth(costume.test)
    step = bought.increment_mm if bought else usual_step_mm(project.units)
    needed = (length + 2.0 * lay_rule("straighten", "straighten_mm", "woven").value) / 1000.0
    there = 0.0 if bought else project.have.get("test cloth", 0.0)
    return BuyLine(
        "cloth",
        f"test garment of {costume.name}: {tried['cloth']}, "
        f"{tape_words(tried['width_mm'], project.units)} wide",
        needed,
        "m",
        min(there, needed),
        bought_amount(needed=needed, on_hand=there, increment=step / 1000.0),
        bought.price_per_m if bought else project.purse.prices.get("test cloth"),
        Reason(
            f"{tape_words(length, project.units)} laid for {', '.join(tried['shapes'])}: one of each, "
            "sewn and fitted before the cloth is cut",
            evidence=COMPUTED,
        ),
        ("an old sheet or curtain that stretches as little",) if not tried["stretch"] else (),
    )
