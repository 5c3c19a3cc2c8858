"""Before and around the seam: prepare, cut, mark, feed under the foot, hem."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.use import Use
from samite.kernel.reasons import Advice, Reason
from samite.seam import traits

SHRINKERS = frozenset(
    {"cotton", "linen", "hemp", "ramie", "jute", "wool", "viscose", "modal", "lyocell", "cupro"}
)
"""Fibres whose cloth shrinks clearly in the first wash or steam."""


@dataclass(frozen=True, slots=True)
class Step:
    """One step of work, said as one does it.

    Parameters
    ----------
    text : str
        What to do.
    details : tuple of tuple of (str, str)
        Named answers that others script against, such as ``("layers", "single")``.
    """

    text: str
    details: tuple[tuple[str, str], ...] = ()

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            ``text`` and one key a detail.
        """
        return {"text": self.text, **dict(self.details)}


def prepare(cloth: Cloth) -> Advice[Step]:
    """Say how to prepare the cloth before cutting.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    Advice of Step
        Pre-treatment and rest.
    """
    say = traits.practice
    fragile = cloth.has(
        PartKind.SEQUINS,
        PartKind.BEADS,
        PartKind.FILM,
        PartKind.GLITTER,
        PartKind.DOTS,
        PartKind.FLOCK,
    )
    if fragile or traits.is_sheet(cloth):
        text = "do not wash or steam before cutting; unroll it and let it lie flat overnight"
        return Advice(
            Step(text, (("pretreat", "none"),)),
            say("water and heat attack what is stuck or laid on its face"),
        )
    if cloth.share("silk", "acetate", "triacetate") >= 40.0 or (
        cloth.has(PartKind.PILE) and cloth.share("viscose", "silk") >= 30
    ):
        text = "do not wet it; test a scrap with a drop of water; let it lie flat overnight"
        return Advice(
            Step(text, (("pretreat", "none"),)),
            say("silk, acetate and viscose pile take water marks"),
        )
    if cloth.share("wool", "cashmere", "mohair") >= 40.0:
        text = "steam the whole length without touching, let it dry flat"
        return Advice(Step(text, (("pretreat", "steam"),)), say("wool shrinks in its first steam"))
    if sum(cloth.share(name) for name in SHRINKERS) >= 40.0:
        text = "wash as the garment will be washed, dry, press; buy 5 % more"
        return Advice(
            Step(text, (("pretreat", "wash"),)),
            say("cotton, linen and viscose shrink in the first wash"),
        )
    if cloth.construction == "knit":
        text = (
            "let it lie relaxed, unrolled, overnight; wash cool first if the garment will be washed"
        )
        return Advice(
            Step(text, (("pretreat", "relax"),)),
            say("a knit is rolled under tension and springs back"),
        )
    text = "unroll it and let it lie; wash cool first only if the garment will be washed"
    return Advice(
        Step(text, (("pretreat", "none"),)), say("man-made fibres hardly shrink in a cool wash")
    )


def cut(cloth: Cloth) -> Advice[Step]:
    """Say how to cut: which face up, how many layers, with what.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    Advice of Step
        Details ``face`` and ``layers``.
    """
    single = _single_layer_reason(cloth)
    face = _face_up(cloth)
    layers = "single" if single else "double"
    tool = _cutting_tool(cloth)
    nap = "; every piece the same way up" if cloth.one_way else ""
    text = f"{layers} layer, face {face.value}, {tool}{nap}"
    because = [face.reason, cloth.reasons["one_way"]]
    because.append(single or traits.practice("it lies still when folded"))
    details = (
        ("face", face.value),
        ("layers", layers),
        ("tool", tool),
        ("one_way", "yes" if cloth.one_way else "no"),
    )
    return Advice(Step(text, details), Reason(text, tuple(because)))


def _single_layer_reason(cloth: Cloth) -> Reason | None:
    say = traits.practice
    if cloth.slippery >= 2:
        return say("a slippery cloth shifts when it lies double")
    if cloth.one_way and cloth.has(
        PartKind.PILE,
        PartKind.SEQUINS,
        PartKind.DOTS,
        PartKind.FILM,
        PartKind.FLOCK,
        PartKind.BEADS,
    ):
        return say("with nap or a worked face the under layer cannot be seen")
    if cloth.one_way and cloth.construction in ("woven", "lace"):
        return say("figure and sheen are placed by eye, piece by piece")
    if cloth.construction == "knit" or traits.is_sheet(cloth) or cloth.construction == "lace":
        return say("it curls, stretches or is too thick to cut double")
    if cloth.sheer:
        return say("a sheer creeps off grain when doubled")
    return None


def _face_up(cloth: Cloth) -> Advice[str]:
    say = traits.practice
    if cloth.has(PartKind.PILE) and not cloth.has(PartKind.FLOCK, PartKind.DOTS):
        return Advice(
            "down", say("the pile lies against the table; one marks and cuts on the back")
        )
    if (
        cloth.has(PartKind.FLOCK, PartKind.DOTS, PartKind.FILM, PartKind.GLITTER)
        or cloth.construction == "lace"
    ):
        return Advice("up", say("motifs and marks on the face are placed by eye"))
    if cloth.has(PartKind.SEQUINS, PartKind.BEADS):
        return Advice(
            "down",
            say("sequins and beads lie against the table; one marks and cuts on the flat back"),
        )
    if cloth.reading.repeat_along_mm or (cloth.one_way and cloth.frays == 3):
        return Advice("up", say("the figure is matched by eye"))
    return Advice("down", say("marks go on the back"))


def _cutting_tool(cloth: Cloth) -> str:
    if traits.is_fur(cloth):
        return "a blade through the backing only"
    if traits.is_sewn_hard(cloth) or cloth.has(PartKind.GLITTER):
        return "old shears, eyes protected"
    if cloth.slippery >= 3 or (cloth.sheer and cloth.construction == "woven"):
        return "sharp or micro-serrated shears, on tissue paper, weighted"
    if cloth.construction == "knit" or traits.is_sheet(cloth):
        return "rotary blade or sharp shears, weights instead of pins"
    if cloth.metallic_percent >= 5.0 or cloth.has(PartKind.FILM):
        return "shears that may go dull: film is hard on the edge"
    return "sharp shears"


def mark(cloth: Cloth) -> Advice[Step]:
    """Say how to mark the pieces.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    Advice of Step
        What to mark with, and where.
    """
    say = traits.practice
    if traits.is_sheet(cloth):
        return Advice(
            Step("chalk pencil or tape on the back; no tracing wheel"),
            say("a wheel pricks holes that stay"),
        )
    if cloth.sheer or cloth.construction in ("net", "lace") or traits.is_sewn_hard(cloth):
        return Advice(
            Step("thread tacks; nothing that draws"), say("a mark shows through to the right side")
        )
    if cloth.has(PartKind.PILE):
        return Advice(
            Step("chalk pencil on the back, thread tacks for points"),
            say("chalk on pile brushes in"),
        )
    if cloth.holes_show or cloth.metallic_percent >= 5.0:
        return Advice(
            Step("thread tacks inside the allowance, chalk on the back"),
            say("wheels and pins leave marks"),
        )
    return Advice(
        Step("chalk on the back, notches no deeper than 3 mm"), say("plain cloth takes chalk")
    )


def feed(cloth: Cloth) -> Advice[Step]:
    """Say which foot and feed.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    Advice of Step
        Detail ``foot``.
    """
    say = traits.practice

    def step(foot: str, text: str, why: str) -> Advice[Step]:
        return Advice(Step(text, (("foot", foot),)), say(why))

    if traits.is_sewn_hard(cloth):
        return step(
            "zipper",
            "zipper foot along the bulk, slowly; turn the hand wheel over doubtful places; eye protection",
            "a needle that hits a bead breaks and flies",
        )
    if traits.is_sheet(cloth) or cloth.has(PartKind.FILM):
        return step(
            "non-stick",
            "non-stick or roller foot, tissue paper between foot and face",
            "film and coating stick to a metal foot",
        )
    if cloth.has(PartKind.GLITTER, PartKind.DOTS, PartKind.FLOCK):
        return step(
            "non-stick",
            "non-stick foot, slowly; wipe the needle when glue gathers",
            "glue warms, sticks and makes skips",
        )
    if cloth.has(PartKind.PILE):
        return step(
            "walking",
            "walking foot or light foot pressure, sew with the pile",
            "two piles creep against each other",
        )
    if cloth.sheer or (cloth.slippery >= 3 and cloth.construction == "woven"):
        return step(
            "straight-stitch",
            "plate with a single hole, hold the thread ends, start on tissue paper",
            "light cloth is pulled into a wide hole",
        )
    if cloth.construction in ("net", "lace"):
        return step(
            "wide", "tissue paper under the seam, slowly", "meshes catch on the toes of the foot"
        )
    if cloth.construction == "knit":
        return step("normal", "light foot pressure, do not pull", "a stretched seam stays wavy")
    if cloth.thickness_mm.value > 0.9 or cloth.slippery >= 2:
        return step(
            "walking",
            "walking foot, light pressure",
            "the lower layer is fed faster than the upper",
        )
    return step(
        "normal",
        "ordinary foot; hold a long seam taut before and behind the needle",
        "a stable cloth feeds evenly",
    )


def hem(cloth: Cloth, use: Use) -> Advice[Step]:
    """Say how to hem.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    use : Use
        What the garment has to bear.

    Returns
    -------
    Advice of Step
        Kind of hem.
    """
    say = traits.practice
    if cloth.sheer and cloth.construction == "woven":
        return Advice(
            Step(
                "narrow rolled hem 3 mm, by hand or with a hem foot; a crisp sheer also takes horsehair braid"
            ),
            say("a wide turning shows through a sheer"),
        )
    if traits.is_sewn_hard(cloth):
        return Advice(
            Step("face it: clear 15 mm, sew a soft ribbon or bias to the edge, turn, hand stitch"),
            say("sequins scratch when turned inside"),
        )
    if cloth.frays == 0 and (
        use.short_lived or cloth.construction in ("net", "lace", "film", "nonwoven")
    ):
        return Advice(Step("leave it raw, cut clean; or turn once"), say("it does not fray"))
    if traits.is_fur(cloth):
        return Advice(
            Step("turn 20 mm once, catch the backing by hand; shave a long pile off the turning"),
            say("a long pile is too thick to turn twice"),
        )
    if cloth.construction == "knit":
        return Advice(
            Step(
                "turn 20 mm once, twin stretch needle or narrow zigzag; by hand with a loose catch stitch on pile"
            ),
            say("the hem must stretch with the cloth"),
        )
    if traits.is_sheet(cloth):
        return Advice(
            Step("turn once, glue or tape, topstitch if the holes may show"),
            say("it cannot be pressed"),
        )
    if cloth.has(PartKind.PILE) or cloth.holes_show or cloth.metallic_percent >= 5.0:
        return Advice(
            Step(
                "face it with a light lining strip or bias, catch by hand into the allowance only"
            ),
            say("stitches and edges print through to the face"),
        )
    return Advice(Step("turn 30 mm, blind stitch by hand"), say("ordinary dress cloth"))
