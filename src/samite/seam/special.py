"""What the trade does besides with sheers, pile, beads, film, fur, lace, bias, metal and the rest."""

from __future__ import annotations

from collections.abc import Iterator

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.use import Use
from samite.kernel.reasons import Reason
from samite.seam import traits
from samite.seam.foundation import check_foundation
from samite.seam.gathering import gathering_class, gathering_ratio
from samite.seam.practice import Practice, say
from samite.seam.turning import corners_and_easing
from samite.seam.wants import Wants, each


def special_practice(wants: tuple[Wants, ...], use: Use) -> tuple[Practice, ...]:
    """Return what the trade does besides in such a joint.

    Parameters
    ----------
    wants : tuple of Wants
        The cloths.
    use : Use
        What the seam has to bear.

    Returns
    -------
    tuple of Practice
        In the order of the work.
    """
    cloths = tuple(one.cloth for one in each(wants))
    found: list[Practice] = []
    for rule in (_beads, _film, _pile, _fur, _sheer, _lace, _unlike, _nap):
        found += rule(cloths)
    if any(one.run == "bias" for one in wants):
        found += _bias()
    found += _shape(cloths, use)
    found += corners_and_easing(cloths, use)
    found += _topstitching(cloths)
    if use.strain:
        found += _fitted(cloths)
    return tuple(found)


def _of(cloths: tuple[Cloth, ...], *kinds: PartKind) -> str:
    return " and ".join(cloth.structure_name for cloth in cloths if cloth.has(*kinds))


def _beads(cloths: tuple[Cloth, ...]) -> Iterator[Practice]:
    name = _of(cloths, PartKind.SEQUINS, PartKind.BEADS)
    if not name:
        return
    yield say(
        "beads",
        f"clear the allowance of the {name} 3 mm past the seam line on both sides: crush or snip, "
        "tie off the threads; wear eye protection, keep children and pets away, sweep at once",
        "a needle that hits a bead breaks and its pieces fly",
    )
    yield say(
        "beads",
        "after sewing sew loose sequins or beads back over the seam by hand",
        "an empty line shows where the seam runs",
    )


def _film(cloths: tuple[Cloth, ...]) -> Iterator[Practice]:
    names = " and ".join(
        c.structure_name for c in cloths if traits.is_sheet(c) or traits.has_film_face(c)
    )
    if not names:
        return
    yield say(
        "film",
        f"{names}: no pins outside the allowance, no unpicking; stitch 2.5 mm and longer; tissue "
        "between foot and face, or a roller or non-stick foot; knot the ends instead of sewing back",
        "every hole stays, and a metal foot sticks",
    )


def _pile(cloths: tuple[Cloth, ...]) -> Iterator[Practice]:
    piles = [c for c in cloths if c.has(PartKind.PILE) and not traits.is_fur(c)]
    if not piles:
        return
    smooth = [c for c in cloths if not c.has(PartKind.PILE)]
    under = f"the {piles[0].structure_name} underneath; " if smooth else ""
    yield say(
        "pile",
        f"{under}hand-baste two rows, sew with the pile, hold taut before and behind, stop every "
        "20 cm with the needle down and lift the foot",
        "a pile pushes the other ply ahead of it",
    )


def _fur(cloths: tuple[Cloth, ...]) -> Iterator[Practice]:
    furs = [c.structure_name for c in cloths if traits.is_fur(c)]
    if furs:
        yield say(
            "fur",
            f"cut only the back of the {furs[0]}, with a blade from the wrong side, outdoors or "
            "with a mask; push the pile inside before sewing, comb it out of the seam afterwards; "
            "shave the allowances",
            "cut pile fills the air and the machine, and a caught pile shows the seam",
        )


def _sheer(cloths: tuple[Cloth, ...]) -> Iterator[Practice]:
    sheers = [c for c in cloths if c.sheer and c.construction in ("woven", "net")]
    if not sheers:
        return
    yield say(
        "sheer",
        "single-hole plate, a new fine needle, hold the thread ends, start on a scrap of tissue; "
        "tear the tissue away along the stitches",
        "light cloth is drawn into the plate",
    )
    if len(sheers) < len(cloths):
        solid = next(c for c in cloths if c not in sheers)
        yield say(
            "sheer",
            f"lay both allowances behind the {solid.structure_name}; let the {sheers[0].structure_name} "
            "hang a day before the hem is levelled",
            "an allowance behind a sheer shows as a dark band",
        )


def _lace(cloths: tuple[Cloth, ...]) -> Iterator[Practice]:
    if any(c.construction == "lace" for c in cloths):
        yield say(
            "lace",
            "cut round the motifs of the upper edge, lay them over the other cloth, narrow zigzag "
            "or hand stitches along the motif's edge, then trim the under ply to 4 mm",
            "a join along a motif is not seen",
        )
    nets = [c.structure_name for c in cloths if c.construction == "net"]
    if nets:
        yield say(
            "lace",
            f"catch two meshes of the {nets[0]} with each stitch, or sew over a strip of tissue or "
            "ribbon; do not sew along a single row of meshes",
            "a single bar tears out",
        )


def _unlike(cloths: tuple[Cloth, ...]) -> Iterator[Practice]:
    if len(cloths) < 2:
        return
    heavy = max(cloths, key=lambda c: c.mass_per_area_gsm.value)
    light = min(cloths, key=lambda c: c.mass_per_area_gsm.value)
    if heavy.mass_per_area_gsm.value > 3.0 * light.mass_per_area_gsm.value:
        yield say(
            "weight",
            f"the {heavy.structure_name} must not hang from the {light.structure_name}: let a tape, "
            "an underlining or the waist carry it",
            "a light cloth tears or sags under one three times its weight",
        )
    curls = [c for c in cloths if c.construction == "knit" and traits.stretch_percent(c) >= 15.0]
    firm = [c for c in cloths if traits.stretch_percent(c) < 15.0]
    if curls and firm:
        yield say(
            "stretch",
            f"mark quarters on both edges, match the marks, sew with the {curls[0].structure_name} "
            "underneath and neither pulled",
            "the knit creeps out of measure against a firm edge",
        )


def _nap(cloths: tuple[Cloth, ...]) -> Iterator[Practice]:
    napped = [c.structure_name for c in cloths if c.one_way]
    if napped:
        yield say(
            "nap",
            f"mark the way of the {' and the '.join(napped)} on every piece; both sides of a seam "
            "run the same way",
            "it shades when one side is turned",
        )
    repeats = [c for c in cloths if c.reading.repeat_along_mm]
    if repeats:
        yield say(
            "nap",
            f"match the repeat of {repeats[0].reading.repeat_along_mm:g} mm at the seam line, not "
            "at the cut edge; baste from the right side with ladder stitches",
            "the allowance hides where the figure meets",
        )


def _bias() -> Iterator[Practice]:
    yield say(
        "bias",
        "hang the pieces a day before sewing; sew on tissue with a stitch of 2 mm and easy tension, "
        "stretch the edge lightly while sewing; hang again before the hem",
        "a bias edge grows by its own weight and a tight seam then draws it up",
    )


def _shape(cloths: tuple[Cloth, ...], use: Use) -> Iterator[Practice]:
    if use.curved:
        yield say(
            "curve",
            "staystitch each edge 3 mm inside the allowance at once after cutting; shorten to 1.8 mm "
            "round the curve; trim to 6 mm, notch outer curves, clip inner ones",
            "a curve stretches as soon as it is handled",
        )
    if use.gathered:
        light = min(cloths, key=lambda c: c.mass_per_area_gsm.value)
        ratio = gathering_ratio(cloth_class=gathering_class(light))
        yield Practice(
            "gathers",
            f"cut the {light.structure_name} {ratio.low:g} to {ratio.high:g} times the finished "
            "length; two rows 4 mm long at 3 and 8 mm from the edge; pin quarters; sew between the "
            "rows with the gathers up",
            Reason("gathering ratio by cloth", (), ratio.evidence),
        )


def _topstitching(cloths: tuple[Cloth, ...]) -> Iterator[Practice]:
    if any(c.metallic_percent >= 5.0 or c.has(PartKind.FILM) for c in cloths):
        yield say(
            "topstitching",
            "metallic thread: large-eye needle Nm 80 to 90, top tension a quarter to a half looser, "
            "stitch 3 to 4 mm, 300 to 400 stitches a minute, spool upright, polyester tex 18 to 24 "
            "in the bobbin",
            "film-wrapped thread shreds in a small eye and at speed",
        )
    if any(traits.is_stretch_knit(c) for c in cloths):
        yield say(
            "stretch",
            "hem with a stretch twin needle whose width clears the plate (zigzag off), woolly thread "
            "below; elastic: quarter it, sew it on stretched with a three-step zigzag",
            "a straight hem breaks when it is pulled over a hip",
        )


def _fitted(cloths: tuple[Cloth, ...]) -> Iterator[Practice]:
    marked = [c for c in cloths if c.holes_show]
    leave = "" if not marked else f"; old stitch holes will show in the {marked[0].structure_name}"
    yield say(
        "letting out",
        f"leave 25 to 40 mm at fitted side seams, 40 to 50 mm at centre back{leave}",
        "a costume is fitted again for the next wearer",
    )
    yield say(
        "quick change",
        "side seams that will be altered: one row of 3 to 4 mm, not sewn back, not overlocked "
        "together; strong hooks with a zip behind for a change in the wings",
        "a seam that is to be opened has to open without a knife",
    )
    yield _foundation(cloths)
    yield say(
        "boning",
        "bones beside every seam that is strained, in channels 3 to 4 mm wider than the bone, ending "
        "10 mm short of the edges; channels on the foundation, not on the face cloth",
        "a strained seam folds where nothing holds it long",
    )


SKIRT_M2 = 3.0
"""Cloth of a long full skirt [m2]."""


def _foundation(cloths: tuple[Cloth, ...]) -> Practice:
    """Whether the weight of a skirt of the heaviest cloth drags a strapless top down."""
    heavy = max(cloths, key=lambda c: c.mass_per_area_gsm.value)
    mass_kg = SKIRT_M2 * heavy.mass_per_area_gsm.value / 1000.0
    problems = check_foundation(skirt_mass_kg=mass_kg)
    found = problems[0] if problems else "a waist stay at 15 N holds it"
    return Practice(
        "foundation",
        "strapless: hang the skirt from a waist stay of grosgrain, 1 to 2 cm smaller than the waist. "
        f"{SKIRT_M2:g} m2 of {heavy.structure_name} weigh {mass_kg:.1f} kg: {found}",
        traits.guess("half on the hips, friction 0.3 of a closed band"),
    )
