"""Hand-made views: nothing here comes from the engines."""

from __future__ import annotations

from samite.sheets.recipe_views import HoldCurve, HoldPanel, PassPanel, RecipeStrip
from samite.sheets.svg import Drawing
from samite.sheets.views import (
    CardSheet,
    LayerStack,
    LayerView,
    Note,
    Picture,
    PressBlock,
    PressCurve,
    PressPass,
    WorkLine,
    Zone,
)

HOSTILE = "<script>alert('&')</script> ]]> \" & \x00\x0b #panic() $x$ \\ *_`"
LONG = "a cloth of many words " * 40


def a_curve(*, safe: bool = True, technique: str = "two dots, steam light") -> PressCurve:
    seconds = (1.0, 2.0, 4.0, 6.0, 9.0, 12.0, 20.0)
    core = tuple((20 + 4 * s, 25 + 5 * s, 30 + 6 * s) for s in seconds)
    face = tuple((18 + 2 * s, 20 + 3 * s, 25 + 4 * s) for s in seconds)
    return PressCurve(
        technique=technique,
        seconds=seconds,
        core_c=core,
        face_c=face,
        chance_set=(0.1, 0.4, 0.96, 0.98, 0.99, 0.99, 1.0),
        chance_damage=(0.0, 0.0, 0.001, 0.004, 0.009, 0.05, 0.4),
        count_s=4.0,
        stop_s=9.0,
        safe=safe,
        softens=Zone("polyester softens: dry", 69.0, 93.0, 125.0),
        limit=Zone("glue harmed: hotmelt, on the face", 130.0, 150.0, 170.0),
        moved_most=("steam output", "thickness of the cloth"),
    )


def a_stack(name: str = "garment: pile") -> LayerStack:
    limit = Zone("elastane harmed: in either ply", 160.0, 180.0, 200.0)
    return LayerStack(
        "two dots, steam light",
        4.0,
        (
            LayerView("sole of the iron", "iron", 0.0, (120.0, 130.0, 150.0)),
            LayerView("dry press cloth", "cloth", 0.35, (100.0, 120.0, 140.0), None, 12.4),
            LayerView("allowance: ground", "ground", 0.6, (60.0, 90.0, 100.0), limit, 0.4),
            LayerView(name, "pile", 0.9, (50.0, 80.0, 100.0), limit),
            LayerView("on the face", "face", 0.0, (30.0, 50.0, 70.0)),
            LayerView("needle board", "support", 0.0, None),
        ),
    )


def a_panel(**other: object) -> PassPanel:
    usual = {
        "side": "wrong",
        "before": "",
        "turned": False,
        "dots": 2,
        "dial": "wool/silk",
        "steam": "light",
        "press_cloth": "dry",
        "motion": "lift",
        "count_s": 4.0,
        "stop_s": 9.0,
    }
    return PassPanel(**(usual | other))  # type: ignore[arg-type]


def a_strip(
    order: str = "open", *, tool: str = "clapper", words: str = "a wood clapper"
) -> RecipeStrip:
    """Three passes, the last from the other side, and a hold."""
    steamed = a_panel(steam="hover", dots=0, dial="dial: medium or high", press_cloth="none")
    damp = a_panel(
        before="straight on, same side", press_cloth="damp", steam="full", motion="stroke"
    )
    turned = a_panel(side="right", before="turn it over", turned=True, count_s=12.0, stop_s=15.0)
    hold = HoldPanel("right", tool, words, 8.0, (96.0, 45.0))
    return RecipeStrip(order, f"The seam lies {order}, on a board", (steamed, damp, turned), hold)


def a_hold(enough: float = 8.0) -> HoldCurve:
    seconds = (1.0, 2.0, 5.0, 8.0, 15.0, 30.0)
    core = tuple((20 + 40 / s, 25 + 60 / s, 30 + 70 / s) for s in seconds)
    return HoldCurve("a wood clapper", seconds, core, (0.2, 0.4, 0.7, 0.94, 0.95, 0.95), enough)


def a_pass(count: float = 4.0, stop: float = 9.0) -> PressPass:
    return PressPass(
        "wrong side, through cotton lawn, dry",
        "wool/silk",
        2,
        "light steam: short puffs",
        "lift and lower",
        count,
        stop,
    )


def a_picture() -> Picture:
    drawing = Drawing(100, 60, "a drawing", "of a line", "hand")
    drawing.line([(0, 0), (100, 60)], stroke=2.0)
    return Picture(drawing.render(), "a line")


def a_card(
    *,
    label: str = "94% polyester 6% elastane velvet, 150 cm",
    passes: tuple[PressPass, ...] = (a_pass(),),
    cautions: int = 3,
    words: str = "keep fingers out of the steam and stand the iron on its heel",
    pictures: bool = True,
) -> CardSheet:
    rows = (
        ("CUT", "single layer, face up", "old shears"),
        ("HOLD", "clips, allowance only", ""),
        ("NEEDLE", "stretch 75/11", "1 for 10 m of seam; polyester thread tex 27"),
        ("STITCH", "zigzag 2.8 mm × 1.5 mm", "length × width; type 304"),
        ("SEAM", "plain seam 10 mm, overedge", "finish after: sew plain, press open"),
    )
    picture = a_picture() if pictures else None
    return CardSheet(
        title="stretch velvet",
        role="a cloak",
        label=label,
        facts=("knit", "280 g/m²", "150 cm wide"),
        lines=tuple(WorkLine(tag, big, detail, "guess") for tag, big, detail in rows),
        press=PressBlock(
            passes=passes,
            support="on a needle board",
            hold="hold under your hand 10 s, until cool",
            also="or a scrap of the same pile",
            instead="finger press it open" if not passes else "",
            state="not proved safe: swatch first",
            odds="seam set 96%, harm on the whole costume 0.4%",
            grade="computed",
        ),
        nevers=("set an iron on the pile: the mark stays", "steam it"),
        test_first="sew two scraps, press them as the card says, then again for 18 s",
        notes=(Note("prepare", "let it lie flat overnight"), Note("mark", "chalk on the back")),
        cautions=tuple(Note("heat", f"{words} ({n + 1})", "a source") for n in range(cautions)),
        doubts=(Note("assumed", "thickness"),),
        curve=picture,
        layers=picture,
    )
