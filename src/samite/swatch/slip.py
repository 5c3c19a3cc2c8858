"""The twenty-minute slip: one square of cloth that holds a seam, a finish, a pull and the press."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from samite.cloth.construction import PICTURE_QUESTION
from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.press.recipe import Recipe
from samite.swatch.candidates import heat_order
from samite.swatch.trial import PressTrial

SIDE_CM = 20.0
"""Side of the square [cm]."""

MINUTES = 20.0
"""What the whole slip may take [min]."""

STATION_MINUTES = 2.0
"""One pressing: press, hold, cool, look [min]."""

STATION_CM = 4.0
"""Seam that one pressing takes [cm]."""

MOST_STATIONS = 4
"""Pressings that there is seam for."""

MARKED_PERCENT = 30.0
"""Share of fibres that drops may mark from which a drop is tried [%]."""

Zone = tuple[float, float, float, float]

ZONES: dict[str, Zone] = {
    "finish": (0.0, 0.0, 2.0, 20.0),
    "marks": (2.6, 5.0, 2.4, 10.0),
    "pull": (7.0, 0.0, 6.0, 4.0),
    "press-1": (7.0, 4.0, 6.0, 4.0),
    "press-2": (7.0, 8.0, 6.0, 4.0),
    "press-3": (7.0, 12.0, 6.0, 4.0),
    "press-4": (7.0, 16.0, 6.0, 4.0),
    "drop": (15.0, 1.5, 4.0, 4.0),
    "paper": (15.0, 7.5, 4.0, 4.0),
    "threads": (15.0, 14.5, 4.0, 4.0),
}
"""Places on the square: left, top, width and height [cm]."""

CAUTIONS = (
    "the sole and the steam burn at once: fingers off, iron on its heel between stations, plug out "
    "at the end",
    "coolest station first; stop at the first shine, sticking, shrinking or smell, and leave every "
    "hotter or longer station out",
    "open a window; what smokes or smells sharp is lifted off at once",
    "a needle that hits sequins, beads or a pin can break: glasses on, and slow over them",
)
"""What to mind on every slip."""


@dataclass(frozen=True, slots=True)
class SlipStep:
    """One step on the slip.

    Parameters
    ----------
    zone : str
        Place on the square, a key of `ZONES`; empty for the whole of it.
    title : str
        A word or two.
    do : str
        What to do.
    look : str
        What to look for.
    settles : str
        What it settles.
    minutes : float
        How long it takes [min].
    cloth_cm : float
        Seam or edge that it uses up [cm].
    trial : PressTrial or None
        The pressing, if it is one.
    """

    zone: str
    title: str
    do: str
    look: str
    settles: str
    minutes: float
    cloth_cm: float = 0.0
    trial: PressTrial | None = None


@dataclass(frozen=True, slots=True)
class Slip:
    """The plan of a slip.

    Parameters
    ----------
    steps : tuple of SlipStep
        In working order.
    cautions : tuple of str
        What to mind.
    side_cm : float
        Side of the square [cm].
    """

    steps: tuple[SlipStep, ...]
    cautions: tuple[str, ...]
    side_cm: float = SIDE_CM

    @property
    def minutes(self) -> float:
        """How long it takes [min]."""
        return sum(step.minutes for step in self.steps)


def plan_slip(
    cloth: Cloth,
    recipe: Recipe,
    sewing: str,
    finish: str,
    trials: Sequence[PressTrial] = (),
    *,
    stretch_percent: float | None = None,
    hung_kg: float | None = None,
) -> Slip:
    """Plan what one square of a cloth is to tell, within twenty minutes.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    recipe : Recipe
        How it is to be pressed.
    sewing : str
        Needle, thread and stitch in words.
    finish : str
        The finish of the edge in words.
    trials : sequence of PressTrial
        Pressings worth a station, in any order.
    stretch_percent : float or None
        How far the seam is stretched along itself; None for not at all [%].
    hung_kg : float or None
        Weight that is hung from 25 mm of it; None for a pull by hand [kg].

    Returns
    -------
    Slip
        Looks before needle, needle before iron, coolest station first; stations that twenty
        minutes leave no time for are left out from the hot end, so that the cool ones stay.

    Notes
    -----
    Minutes are guesses of a practised hand without setting up machine and iron. A square of
    20 cm is what is asked for at the shop counter; a seam of 20 cm has five places of 4 cm.
    """
    pull = _pull(stretch_percent, hung_kg)
    first = [*_looks(cloth), *_sewn(cloth, sewing, finish, pull)]
    patches, last = _patches(cloth, recipe), _ends(recipe)
    spent = sum(step.minutes for step in (*first, *patches, *last))
    room = min(MOST_STATIONS, int((MINUTES - spent) / STATION_MINUTES))
    ordered = sorted(trials, key=heat_order)[: max(room, 0)] if recipe.passes else []
    stations = [_station(number, trial) for number, trial in enumerate(ordered, start=1)]
    return Slip((*first, *patches, *stations, *last), CAUTIONS + _own_cautions(cloth, recipe))


def _looks(cloth: Cloth) -> list[SlipStep]:
    """Cut the square; if need be, tell knit from woven before anything is sewn."""
    steps = [
        SlipStep(
            "marks",
            "cut and mark",
            "cut 20 x 20 cm on the grain, an arrow along the selvedge and the right side marked; "
            "two dots of thread 10 cm apart along the grain; then cut it in two along the middle",
            "how it cuts, slides and ravels",
            "cutting and the size of the slip before it is pressed",
            2.0,
        )
    ]
    if PICTURE_QUESTION in cloth.unknown:
        steps.append(
            SlipStep(
                "threads",
                "woven or knit",
                "pull a corner across and along, then pick at a cut edge with a pin",
                "does it stretch? do threads come out, or loops?",
                "point of the needle, stitch and finish",
                1.0,
            )
        )
    if any("fibre" in item for item in cloth.unknown):
        steps.append(
            SlipStep(
                "threads",
                "threads for the fibre",
                "ravel out ten threads each way and keep them in an envelope: samite swatch fibre "
                "says how they are tested, the water first, the flame last and never in a hurry",
                "",
                "which fibre it is, and how hot the iron may be",
                1.0,
            )
        )
    return steps


def _pull(stretch_percent: float | None, hung_kg: float | None) -> str:
    """Say how the seam's top end is pulled, and how far."""
    pull = "pull the seam's top end across with both hands, as hard as in wear"
    if hung_kg is not None:
        pull = (
            f"clamp 25 mm of the seam's top end between strips of wood and hang {hung_kg:.1f} kg from "
            "it, over the floor, feet away"
        )
    if stretch_percent is not None:
        pull += (
            f"; then along it, until 40 mm have become {40 * (1 + stretch_percent / 100):.0f} mm"
        )
    return pull


def _sewn(cloth: Cloth, sewing: str, finish: str, pull: str) -> list[SlipStep]:
    looks = ["puckers", "skipped stitches", "holes beside the seam"]
    cracks = ", cracked stitches" if cloth.construction == "knit" else ""
    return [
        SlipStep(
            "press-1",
            "sew",
            f"sew the halves together again, right sides in, 1.5 cm in, all 20 cm: {sewing}",
            ", ".join(looks),
            "needle, thread, stitch and tension",
            3.0,
            20.0,
        ),
        SlipStep(
            "finish",
            "finish",
            f"finish the left edge over all 20 cm: {finish}",
            "waves, rolling, threads that come through",
            "whether the finish holds this edge",
            2.0,
            20.0,
        ),
        SlipStep(
            "pull",
            "pull",
            pull,
            f"yarns that slide at the seam, holes{cracks}",
            "whether the seam holds in wear",
            1.0,
            4.0,
        ),
    ]


def _patches(cloth: Cloth, recipe: Recipe) -> list[SlipStep]:
    """A drop that dries while the iron heats, and paper on what may be glued."""
    steps = []
    if cloth.share("silk", "viscose", "acetate", "triacetate", "cupro") >= MARKED_PERCENT:
        steps.append(
            SlipStep(
                "drop",
                "drop",
                "let one drop of water fall on the right side and leave it to dry",
                "a ring, or a place that has cockled, when it is dry at the end",
                "whether steam and a damp cloth may come near",
                0.5,
                4.0,
            )
        )
    glued = cloth.has(PartKind.GLITTER, PartKind.DOTS, PartKind.FLOCK, PartKind.FILM)
    if glued and recipe.passes:
        steps.append(
            SlipStep(
                "paper",
                "paper",
                "lay baking paper on the right side, turn it over, and press the back at one dot for "
                "5 s; let it cool, peel",
                "anything that sticks to the paper",
                "at what heat the glue lets go",
                1.5,
                4.0,
            )
        )
    return steps


def _station(number: int, trial: PressTrial) -> SlipStep:
    through = {"none": "straight on the cloth", "dry": "through a dry cloth"}
    touch = (
        "steam held 2 cm off"
        if trial.steam == "hover"
        else f"{trial.dial.words}, {through.get(trial.press_cloth, 'through a damp cloth')}, "
        f"{'no steam' if trial.steam == 'none' else f'{trial.steam} steam'}"
    )
    hold = f", then {trial.hold_seconds:.0f} s under the {trial.hold_tool}"
    return SlipStep(
        f"press-{number}",
        f"station {number}",
        f"the next 4 cm of the seam, allowances open, {trial.side} side: {touch}, count "
        f"{trial.seconds:g} s{hold if trial.hold_seconds else ''}; let it cool",
        "set flat? shine at a slant, stuck, hard, shrunk, pile crushed, colour or film off",
        "how hot and how long this iron and this cloth agree",
        STATION_MINUTES,
        STATION_CM,
        trial,
    )


def _ends(recipe: Recipe) -> list[SlipStep]:
    steps = []
    if recipe.passes:
        steps.append(
            SlipStep(
                "marks",
                "measure",
                "measure between the two dots of thread, 10 cm before",
                "how many millimetres are missing",
                "shrinkage, and whether the cloth is steamed before it is cut",
                0.5,
            )
        )
    steps.append(
        SlipStep(
            "",
            "write down",
            "keep every station, good or bad: samite swatch add, or the page's form; pin the slip to "
            "the card",
            "",
            "every later answer for this cloth",
            1.5,
        )
    )
    return steps


def _own_cautions(cloth: Cloth, recipe: Recipe) -> tuple[str, ...]:
    """What this cloth's own make-up adds."""
    found = []
    if cloth.has(PartKind.SEQUINS, PartKind.BEADS):
        found.append("unpick sequins and beads from the seam line first; no iron on them")
    if not recipe.passes:
        found.append("no iron comes near this cloth: the slip is sewn, finished and pulled only")
    return tuple(found)
