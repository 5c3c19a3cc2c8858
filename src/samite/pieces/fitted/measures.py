"""The numbers that garments of the trunk take: body measures, eases, limits of the cloth."""

from __future__ import annotations

from samite.pieces.fitted.report import Limits
from samite.pieces.shape import Parameter, Values, choice, mm, number
from samite.pieces.surface.solve import Trunk

GIRTHS = (
    mm("bust", "bust girth of the body", low=300, high=2200, bust_girth=1.0),
    mm("underbust", "underbust girth of the body", low=300, high=2200, underbust_girth=1.0),
    mm(
        "upper_chest", "girth under the arms of the body", low=300, high=2200, upper_chest_girth=1.0
    ),
    mm("waist", "waist girth of the body", low=250, high=2200, waist_girth=1.0),
    mm("hip", "hip girth of the body", low=300, high=2400, hip_girth=1.0),
)

LENGTHS = (
    mm("hip_drop", "from waist to hip", low=40, high=500, waist_to_hip=1.0),
    mm("bust_drop", "from the neck bone down to the level of the bust", low=60, high=700,
       cervicale_height=1.0, bust_height=-1.0),
    mm("arm_drop", "from the neck bone down to the armpit", low=40, high=500,
       cervicale_height=1.0, underarm_height=-1.0),
    mm("shoulder_drop", "from the neck bone down to the shoulder bone", low=-50, high=250,
       cervicale_height=1.0, shoulder_height=-1.0),
    mm("back_length", "neck bone to waist, behind", low=100, high=800, back_waist_length=1.0),
    mm("front_length", "side of the neck over the breast point to the waist", low=100, high=900,
       front_waist_length=1.0),
    mm("shoulder_length", "side of the neck to the shoulder bone", low=40, high=300,
       shoulder_length=1.0),
    mm("neck", "girth of the neck base", low=150, high=900, neck_base_girth=1.0),
    mm("bust_points", "from bust point to bust point", low=40, high=500, bust_point_distance=1.0),
    mm("chest_depth", "front to back at the bust", low=80, high=800, chest_depth=1.0),
    mm("chest_breadth", "side to side at the bust", low=100, high=800, chest_breadth=1.0),
    mm("waist_depth", "front to back at the waist", low=60, high=900, waist_depth=1.0),
    mm("waist_breadth", "side to side at the waist", low=100, high=900, waist_breadth=1.0),
    mm("hip_depth", "front to back at the hip", low=60, high=900, hip_depth=1.0),
    mm("hip_breadth", "side to side at the hip", low=100, high=900, hip_breadth=1.0),
)  # fmt: skip

CLOTH = (
    number("warp_limit", "what the cloth gives along the grain", 3.0, 0.05, 60.0, "%"),
    number("weft_limit", "what the cloth gives across the grain", 3.0, 0.05, 60.0, "%"),
    number("surplus_limit", "what of it can be eased or pressed away", 6.0, 0.05, 60.0, "%"),
    number("shear_limit", "by how much its right angle may change", 8.0, 0.2, 45.0, "deg"),
    choice("hatching", "whether pulls are hatched on the pieces", "yes", "no"),
    mm("mesh", "distance of the points that the surface is computed at", 15.0, low=5, high=30),
)


def eases(**defaults_mm: float) -> tuple[Parameter, ...]:
    """Return the eases of a garment as parameters.

    Parameters
    ----------
    **defaults_mm : float
        Ease by region [mm].

    Returns
    -------
    tuple of Parameter
        ``bust_ease`` and so on.

    References
    ----------
    ``definition``: girth of the garment less that of the body.
    """
    return tuple(
        mm(f"{name}_ease", f"ease at the {name.replace('_', ' ')}", value, low=-600, high=600)
        for name, value in defaults_mm.items()
    )


def trunk_of(v: Values) -> Trunk:
    """Return the trunk that a garment is to cover.

    Parameters
    ----------
    v : Values
        Body measures and eases.

    Returns
    -------
    Trunk
        Girths with ease, lengths of the body.

    References
    ----------
    ``guess``: the high hip lies half way, its girth between waist and hip.
    """

    def with_ease(name: str) -> float:
        return v[name] + v.get(f"{name}_ease", 0.0)

    waist, hip = with_ease("waist"), with_ease("hip")
    return Trunk(
        hip, 0.42 * waist + 0.58 * hip, waist, with_ease("underbust"), with_ease("bust"),
        with_ease("upper_chest"), v["hip_drop"], v["bust_drop"], v["arm_drop"], v["shoulder_drop"],
        v["back_length"], v["front_length"], v["shoulder_length"], v["neck"], v["bust_points"],
        (v["chest_depth"] / v["chest_breadth"], v["waist_depth"] / v["waist_breadth"],
         v["hip_depth"] / v["hip_breadth"]),
    )  # fmt: skip


def limits_of(v: Values) -> Limits:
    """Return what the cloth allows.

    Parameters
    ----------
    v : Values
        Settings.

    Returns
    -------
    Limits
        Shares.

    References
    ----------
    ``definition``: per cent as shares.
    """
    return Limits(
        v["warp_limit"] / 100.0, v["weft_limit"] / 100.0, v["surplus_limit"] / 100.0,
        v["shear_limit"],
    )  # fmt: skip
