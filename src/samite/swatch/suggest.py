"""Which test on a scrap would settle what the label leaves open."""

from __future__ import annotations

from dataclasses import dataclass

from samite.cloth.construction import PICTURE_QUESTION
from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.press.recipe import Recipe


@dataclass(frozen=True, slots=True)
class SwatchTest:
    """A test on a scrap.

    Parameters
    ----------
    test : str
        What to do and what to look for.
    settles : str
        What it settles.
    minutes : float
        How long it takes [min].
    cloth_cm : float
        Cloth, seam or edge that it uses up [cm].
    pressed : bool
        Whether it is the pressing of a scrap, whose worth the press model weighs.
    sewn : bool
        Whether it is the sewing of a scrap, whose worth the seam model weighs.
    """

    test: str
    settles: str
    minutes: float = 1.0
    cloth_cm: float = 0.0
    pressed: bool = False
    sewn: bool = False

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            Keys ``test``, ``settles``, ``minutes`` and ``cloth_cm``.
        """
        return {
            "test": self.test,
            "settles": self.settles,
            "minutes": self.minutes,
            "cloth_cm": self.cloth_cm,
        }


def suggest_swatches(cloth: Cloth, recipe: Recipe) -> tuple[SwatchTest, ...]:
    """Suggest the tests worth making before the first cut.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    recipe : Recipe
        How it is to be pressed.

    Returns
    -------
    tuple of SwatchTest
        The most telling first; always at least one.
    """
    return tuple(open_questions(cloth) + _press_tests(cloth, recipe) + _seam_tests(cloth))


def open_questions(cloth: Cloth) -> list[SwatchTest]:
    """Return the tests that settle what the label leaves open.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    list of SwatchTest
        Empty if the label says what it is made of and how.
    """
    found = []
    if PICTURE_QUESTION in cloth.unknown:
        found.append(
            SwatchTest(
                "pull a scrap across, then pick at a cut edge: does it stretch? do threads come out?",
                "woven or knit: point of the needle, stitch and finish",
            )
        )
    if any("fibre" in item for item in cloth.unknown):
        found.append(
            SwatchTest(
                "burn a few threads in tweezers over a dish of water, away from the cloth, window "
                "open: a hard bead means it melts, ash that smells of paper or hair means it does not",
                "which fibre it is, and how hot the iron may be",
                10.0,
            )
        )
    return found


def _press_tests(cloth: Cloth, recipe: Recipe) -> list[SwatchTest]:
    if not recipe.passes:
        return []
    longest = max(step.seconds[1] for step in recipe.passes)
    test = (
        f"sew two scraps, press them as the card says, then again for {2 * longest:.0f} s; look at "
        "the face at a slant, feel for stuck or hard places, bend the seam when cold"
    )
    settles = "whether this iron and this cloth agree, and how much time there is to spare"
    found = [SwatchTest(test, settles, 5.0, 10.0, pressed=True)]
    if cloth.has(PartKind.GLITTER, PartKind.DOTS, PartKind.FLOCK, PartKind.FILM):
        found.append(
            SwatchTest(
                "lay baking paper on the face of a scrap and press from the back for 10 s: does "
                "anything stick to the paper?",
                "at what heat the glue lets go",
                2.0,
                4.0,
            )
        )
    if cloth.share("silk", "viscose", "acetate", "cupro") > 30:
        found.append(
            SwatchTest("put one drop of water on a scrap and let it dry", "water marks", 0.5, 4.0)
        )
    return found


def _seam_tests(cloth: Cloth) -> list[SwatchTest]:
    test = "sew 20 cm with the card's needle, thread and stitch on two layers"
    looks = ["puckers", "skipped stitches"]
    if cloth.frays >= 2:
        looks.append("yarns sliding at the seam when pulled by hand")
    if cloth.construction == "knit":
        looks.append("cracked stitches when stretched as in wear")
    if cloth.holes_show:
        looks.append("holes after unpicking")
    return [SwatchTest(test, ", ".join(looks), 5.0, 20.0, sewn=True)]
