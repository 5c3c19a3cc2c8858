"""The recipe from limits: dial, steam, cloth, side, passes, support and hold, said as one presses."""

from __future__ import annotations

from dataclasses import dataclass, replace

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.use import Use
from samite.kernel.evidence import Evidence, Grade
from samite.kernel.reasons import Advice, Reason
from samite.press.ceiling import Ceiling, find_ceiling, shields_face
from samite.press.dials import Dial, lower_dial

PRACTICE = Evidence("common-practice", Grade.COMMON_PRACTICE)
GUESS = Evidence("guess", Grade.GUESS)
SYMBOL = Evidence("iso-3758-2012", Grade.PUBLICATION, "one-dot symbol")

DELICATE_PILE = frozenset({"viscose", "silk", "acetate", "cupro", "modal", "lyocell", "triacetate"})
"""Pile fibres that steam and weight flatten for good."""

WATER_MARKED = frozenset({"silk", "acetate", "triacetate"})
"""Fibres on which drops of water leave a ring."""

NYLONS = frozenset({"polyamide", "polyamide-6", "polyamide-66"})
"""Fibres that soften enough to take a crease at one dot."""

KEPT_COOL = frozenset({"acrylic", "acetate", "modacrylic", "polylactide"})
"""Fibres that care symbols keep at one dot."""


HOVER_DIAL = (
    "medium or high: hot enough to steam without spitting; the sole stays 2 cm off the cloth"
)
"""Where the dial stands when the iron only steams."""


@dataclass(frozen=True, slots=True)
class Pass:
    """One pass of the iron.

    Parameters
    ----------
    side : str
        ``wrong`` or ``right``.
    cloth : bool
        Through a press cloth.
    iron : Dial
        Dial position.
    steam : str
        ``none``, ``hover``, ``light`` or ``full``.
    seconds : tuple of float
        Shortest and longest time on one place [s].
    motion : str
        ``lift`` (lift and lower) or ``stroke``.
    dial_for_steam : str
        Where the dial stands when the iron only steams.
    """

    side: str
    cloth: bool
    iron: Dial
    steam: str
    seconds: tuple[float, float]
    motion: str
    dial_for_steam: str = HOVER_DIAL

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            One key a field; hovering passes say what the dial must stand at.
        """
        return {
            "side": self.side,
            "cloth": self.cloth,
            "iron": self.iron.value,
            "steam": self.steam,
            "seconds": list(self.seconds),
            "motion": self.motion,
            **({"dial_for_steam": self.dial_for_steam} if self.steam == "hover" else {}),
        }


@dataclass(frozen=True, slots=True)
class Recipe:
    """How to press one cloth.

    Parameters
    ----------
    status : str
        ``safe``, ``compromise`` or ``do-not-press``.
    passes : tuple of Pass
        In working order; empty without an iron.
    cloth_kind : str
        Which press cloth, empty for none.
    support : str
        What lies under.
    hold_tool : str
        What holds the seam after the iron.
    hold_seconds : float
        How long [s].
    instead : str
        What to do where the iron may not go, or besides.
    never : tuple of str
        What never to do.
    chance_set : float or None
        Chance that a placement sets the seam; None if no window was computed [-].
    chance_damage : float or None
        Chance that the costume's pressing hurts some part; None likewise [-].
    """

    status: str
    passes: tuple[Pass, ...]
    cloth_kind: str
    support: str
    hold_tool: str
    hold_seconds: float
    instead: str
    never: tuple[str, ...]
    chance_set: float | None = None
    chance_damage: float | None = None

    @property
    def iron(self) -> Dial:
        """Hottest dial of any pass that touches."""
        touching = [item.iron for item in self.passes if item.steam != "hover"]
        return max(touching, key=lambda dial: dial.dots, default=Dial.NONE)

    @property
    def steam(self) -> str:
        """Strongest steam of any pass."""
        order = ("none", "hover", "light", "full")
        return max((item.steam for item in self.passes), key=order.index, default="none")

    @property
    def side(self) -> str:
        """``wrong``, ``right`` or ``both``."""
        sides = {item.side for item in self.passes}
        return sides.pop() if len(sides) == 1 else ("both" if sides else "wrong")

    @property
    def uses_cloth(self) -> bool:
        """Whether any pass goes through a press cloth."""
        return any(item.cloth for item in self.passes)

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form of the card's ``press``.

        Returns
        -------
        dict of str to object
            As documented in ``docs/faces/cli.md``.
        """
        return {
            "status": self.status,
            "iron": self.iron.value,
            "dial": self.iron.words,
            "sole_max_c": self.iron.sole_max_c,
            "steam": self.steam,
            "cloth": self.uses_cloth,
            "cloth_kind": self.cloth_kind if self.uses_cloth else "",
            "side": self.side,
            "passes": [item.as_dict() for item in self.passes],
            "support": self.support,
            "hold": {"tool": self.hold_tool, "seconds": self.hold_seconds},
            "instead": self.instead,
            "chance_set": _shown(self.chance_set),
            "chance_damage": _shown(self.chance_damage),
        }


def _shown(chance: float | None) -> float | None:
    return None if chance is None else round(chance, 4)


def choose_recipe(cloth: Cloth, use: Use) -> Advice[Recipe]:
    """Choose how to press a cloth, from the limits of its parts.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    use : Use
        What the seam has to bear: a curved one lies on a ham.

    Returns
    -------
    Advice of Recipe
        Passes, support, hold and what never to do, with the reasons.

    Notes
    -----
    No heat is computed here: seconds are practice by thickness, and err short.
    """
    ceiling = find_ceiling(cloth)
    dial = _wanted_dial(cloth, ceiling.value)
    if _keeps_shape_by_steam(cloth):
        return _hover_recipe(cloth, ceiling)
    if dial.value is Dial.NONE:
        return _no_iron_recipe(cloth, ceiling)
    steam = _choose_steam(cloth, dial.value)
    passes = _passes(cloth, dial.value, steam.value)
    tool, seconds = _hold(cloth)
    recipe = Recipe(
        status="safe" if not _unproved(cloth) else "compromise",
        passes=passes.value,
        cloth_kind=_cloth_kind(cloth),
        support=_support(cloth, use),
        hold_tool=tool,
        hold_seconds=seconds,
        instead="",
        never=_never(cloth),
    )
    because = (ceiling.reason, dial.reason, steam.reason, passes.reason)
    return Advice(recipe, Reason(f"{recipe.iron.words}, steam {recipe.steam}", because))


def _wanted_dial(cloth: Cloth, ceiling: Ceiling) -> Advice[Dial]:
    highest = ceiling.wrong_side
    if highest is Dial.NONE:
        return Advice(highest, Reason("a part of it bears no iron", evidence=GUESS))
    cool = _kept_cool(cloth)
    if cool and not ceiling.by_label:
        return Advice(lower_dial(highest, Dial.LOW), Reason(cool, evidence=PRACTICE))
    if highest is Dial.HIGH and cloth.has(PartKind.PILE):
        return Advice(
            Dial.MEDIUM, Reason("one dot less than flat cloth: pile glazes", evidence=PRACTICE)
        )
    return Advice(
        highest, Reason("as hot as its parts bear, so that the press is short", evidence=PRACTICE)
    )


def _kept_cool(cloth: Cloth) -> str:
    """Say why one dot is enough, or nothing."""
    if cloth.share(*NYLONS) >= 50.0:
        return "nylon takes its crease at one dot already"
    tender = [item.fibre for item in cloth.base.fibres if item.fibre in KEPT_COOL]
    if cloth.share(*KEPT_COOL) > 15.0:
        return f"care symbols keep {tender[0]} at one dot"
    return ""


def _keeps_shape_by_steam(cloth: Cloth) -> bool:
    """Whether contact would flatten what the cloth is bought for."""
    fur = cloth.has(PartKind.PILE) and cloth.pile_height_mm >= 2.5
    raised = (
        cloth.construction == "knit"
        and cloth.thickness_mm.value >= 1.8
        and cloth.packing.value < 0.14
    )
    pile = [i.fibre for p in cloth.parts if p.kind is PartKind.PILE for i in p.fibres]
    delicate = bool(DELICATE_PILE & set(pile))
    crushed_pile = cloth.crushed and (cloth.has(PartKind.PILE) or cloth.thickness_mm.value >= 0.9)
    bears = not cloth.has(PartKind.FILM, PartKind.COATING, PartKind.SEQUINS, PartKind.GLITTER)
    return bears and (fur or raised or delicate or crushed_pile)


def _hover_recipe(cloth: Cloth, ceiling: Advice[Ceiling]) -> Advice[Recipe]:
    fur = cloth.has(PartKind.PILE) and cloth.pile_height_mm >= 2.5
    steamable = not fur or cloth.share("acrylic", "modacrylic") == 0.0
    step = Pass("wrong", False, Dial.NONE, "hover", (3.0, 8.0), "lift")
    recipe = Recipe(
        status="safe",
        passes=(step,) if steamable else (),
        cloth_kind="",
        support="needle-board" if cloth.has(PartKind.PILE) else "towel",
        hold_tool="hand",
        hold_seconds=10.0,
        instead="finger press the allowances open while they are warm; brush the pile up",
        never=_never(cloth),
    )
    claim = "steam without touching: contact would flatten it for good"
    return Advice(recipe, Reason(claim, (ceiling.reason,), PRACTICE))


def _no_iron_recipe(cloth: Cloth, ceiling: Advice[Ceiling]) -> Advice[Recipe]:
    recipe = Recipe(
        status="do-not-press",
        passes=(),
        cloth_kind="",
        support="none",
        hold_tool="weight" if not cloth.has(PartKind.PILE) else "hand",
        hold_seconds=30.0,
        instead="finger press or roll the seam open, topstitch or glue the allowances, leave it under a weight",
        never=_never(cloth),
    )
    return Advice(recipe, Reason("no iron: a part of it bears none", (ceiling.reason,), GUESS))


def _choose_steam(cloth: Cloth, dial: Dial) -> Advice[str]:
    for allowed, claim, evidence in _steam_bars(cloth, dial):
        if not allowed:
            return Advice("none", Reason(claim, evidence=evidence))
    base = [item.fibre for item in cloth.base.fibres if item.percent > 30.0]
    if {"cotton", "linen", "hemp", "jute", "ramie"} & set(base) and not cloth.has(PartKind.PILE):
        return Advice(
            "full", Reason("plant fibres are set by wetting and drying", evidence=PRACTICE)
        )
    return Advice(
        "light", Reason("a little steam helps and nothing in it minds", evidence=PRACTICE)
    )


def _steam_bars(cloth: Cloth, dial: Dial) -> tuple[tuple[bool, str, Evidence], ...]:
    glued = cloth.has(PartKind.DOTS, PartKind.FLOCK) or (
        cloth.has(PartKind.GLITTER, PartKind.FILM) and not shields_face(cloth)
    )
    light = cloth.sheer and cloth.construction in ("woven", "net")
    return (
        (not cloth.reading.care_no_steam, "the label forbids steam", SYMBOL),
        (dial is not Dial.LOW, "one dot goes without steam: most irons spit there", SYMBOL),
        (cloth.metallic_percent < 2.0, "steam dulls the lacquer of metallised yarn", PRACTICE),
        (not glued, "steam loosens what is glued on", PRACTICE),
        (not light, "a sheer heats at once; steam only makes it limp and cockled", PRACTICE),
        (cloth.share(*WATER_MARKED) < 30.0, "drops leave rings on it", PRACTICE),
        (
            not (cloth.crushed and not cloth.has(PartKind.PILE)),
            "steam lets the crush drop",
            PRACTICE,
        ),
    )


def _passes(cloth: Cloth, dial: Dial, steam: str) -> Advice[tuple[Pass, ...]]:
    seconds = _seconds(cloth)
    metallic = cloth.metallic_percent >= 2.0 and not cloth.has(PartKind.DOTS, PartKind.PILE)
    if cloth.has(PartKind.DOTS):
        step = Pass("wrong", True, dial, steam, (1.0, 2.0), "lift")
        claim = "thin and metallised, it heats at once: a couple of seconds a side, the hold does the rest"
        return Advice((step, replace(step, side="right")), Reason(claim, evidence=PRACTICE))
    if metallic and cloth.construction == "woven" and (cloth.crushed or dial is Dial.MEDIUM):
        warm = Pass("wrong", False, Dial.LOW, "none", (1.0, 2.0), "lift")
        through = Pass(
            "right", True, dial, "none", seconds if cloth.crushed else (2.0, 4.0), "lift"
        )
        claim = "a brief direct warm-up from the back, then through the cloth, longer and gentler on the face"
        return Advice((warm, through), Reason(claim, evidence=PRACTICE))
    plain = cloth.yarn == "staple" and not cloth.has(PartKind.PILE) and dial is Dial.HIGH
    motion = "stroke" if cloth.sheer or plain else "lift"
    step = Pass("wrong", not plain, dial, steam, seconds, motion)
    claim = "seconds by thickness; through a cloth they are longer but more forgiving"
    return Advice((step,), Reason(claim, evidence=GUESS))


def _seconds(cloth: Cloth) -> tuple[float, float]:
    thick = cloth.thickness_mm.value
    if thick < 0.2:
        return (2.0, 4.0)
    if thick < 0.6:
        return (3.0, 6.0)
    return (4.0, 9.0)


def _cloth_kind(cloth: Cloth) -> str:
    if cloth.has(PartKind.PILE):
        return "cotton lawn, dry; or a scrap of the same pile, face to face"
    if cloth.holes_show and not cloth.sheer:
        return "silk organza, dry: one sees the seam through it"
    return "cotton lawn, dry"


def _support(cloth: Cloth, use: Use) -> str:
    if cloth.has(PartKind.PILE):
        return "needle-board"
    if cloth.has(PartKind.BEADS, PartKind.FLOCK, PartKind.GLITTER) or cloth.construction == "lace":
        return "towel"
    if use.curved:
        return "ham"
    smooth = cloth.yarn == "filament" and cloth.holes_show and not cloth.sheer
    if smooth and cloth.construction == "woven" and cloth.mass_per_area_gsm.value >= 170.0:
        return "seam-roll"
    return "board"


def _hold(cloth: Cloth) -> tuple[str, float]:
    if cloth.has(PartKind.PILE, PartKind.BEADS) or cloth.crushed:
        return "hand", 10.0
    if cloth.sheer:
        return "weight", 5.0
    if cloth.metallic_percent >= 2.0:
        return "clapper", 3.0
    return "clapper", 8.0


def _unproved(cloth: Cloth) -> bool:
    """Whether the answer hangs on something that the label does not tell."""
    if cloth.has(PartKind.GLITTER, PartKind.DOTS, PartKind.FILM, PartKind.BEADS):
        return True
    return not cloth.base.known


def _never(cloth: Cloth) -> tuple[str, ...]:
    rules = (
        (cloth.has(PartKind.PILE), "never set an iron on the pile: the mark stays"),
        (
            cloth.has(PartKind.GLITTER),
            "never let the iron touch the glitter: it melts into the cloth or onto the sole",
        ),
        (cloth.has(PartKind.DOTS), "never press on the dots without a cloth: their glue lets go"),
        (
            cloth.has(PartKind.SEQUINS, PartKind.BEADS),
            "never sew or press over sequins or beads: they shatter, curl and melt",
        ),
        (
            cloth.has(PartKind.FILM) or cloth.metallic_percent >= 5,
            "never steam it or leave the iron standing: film shrinks and tarnishes",
        ),
        (cloth.has(PartKind.FLOCK), "never rub or rest the iron on the flock"),
        (
            cloth.has(PartKind.COATING) or cloth.construction in ("film", "foam"),
            "never iron it: it melts, sticks and fumes",
        ),
        (cloth.crushed, "never press the crush out: lift and lower, no weight"),
        (cloth.share(*WATER_MARKED) >= 30, "never drip water on it"),
        (
            cloth.sheer and cloth.construction in ("woven", "net"),
            "never let the iron rest: it melts or marks in a breath",
        ),
    )
    found = [text for applies, text in rules if applies]
    return tuple(found) or ("never press over pins: they mark the cloth and scratch the sole",)
