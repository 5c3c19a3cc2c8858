"""The cloth decides: the fewest panels that keep within what it gives, and what each number costs."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from samite.kernel.errors import InfeasibleError
from samite.pieces.fitted.darts import needless_darts
from samite.pieces.fitted.plan import Laid, Plan, lay_flat
from samite.pieces.fitted.report import Limits, PanelOption

_MOST_PULL = 0.12
"""Pull beyond which pieces are no pieces any more, a guess [-]."""

_NEARLY = 1.1
"""Share of a limit up to which the best way is taken all the same: no limit is known to a tenth."""

Way = tuple[str, Callable[[], Plan]]
"""Name of a way to part a garment, and what makes its plan."""


def option_of(name: str, laid: Laid, limits: Limits) -> PanelOption:
    """Return what a way to part a garment costs.

    Parameters
    ----------
    name : str
        Its name.
    laid : Laid
        The garment laid flat.
    limits : Limits
        What the cloth allows.

    Returns
    -------
    PanelOption
        Strain against its limit, seams, pieces.

    Notes
    -----
    Judged by whole panels, of which the worst twentieth is left out at either end: a few triangles at
    ends of seams do no harm.

    References
    ----------
    ``definition``: largest share of a limit.
    """
    worst = max(laid.whole, key=limits.use)
    seams = sum(
        next(
            s for s in laid.panel(seam.first[0]).spec.sides if s.name == seam.first[1]
        ).line.length_mm
        for seam in laid.plan.seams
    )
    darts = sum(
        side.line.length_mm / 2.0 for panel in laid.panels for side in panel.spec.sides if side.slit
    )
    pieces = sum(
        1 if any(side.kind == "fold" for side in panel.spec.sides) else 2 for panel in laid.panels
    )
    pull = max(max(one.warp[1], one.weft[1]) for one in laid.whole)
    return PanelOption(name, limits.use(worst), worst.name, 2.0 * (seams + darts), pieces, pull)


def fewest_panels(
    ways: Sequence[Way], limits: Limits, *, asked: str = ""
) -> tuple[Laid, tuple[PanelOption, ...], str]:
    """Return the garment with the fewest panels that the cloth takes.

    Parameters
    ----------
    ways : sequence of (str, callable)
        Ways to part it, the fewest panels first.
    limits : Limits
        What the cloth allows.
    asked : str
        A way that was asked for; empty lets the cloth decide.

    Returns
    -------
    tuple of (Laid, tuple of PanelOption, str)
        The garment, the ways that were tried, the name of the one taken.

    Raises
    ------
    InfeasibleError
        If no way comes near the limits, with why and what could; or if the way asked for cannot
        be laid flat at all, or has darts that take nothing up.

    Notes
    -----
    The first way often does; of further ones lines are trued only where the strains allow it.

    References
    ----------
    ``guess``: allowed strain by class of cloth.
    """
    options: list[PanelOption] = []
    refused = ""
    for name, make in ways:
        if asked and name != asked:
            continue
        try:
            laid = lay_flat(make(), finished=bool(asked) or not options)
        except InfeasibleError as error:
            if asked:
                raise
            refused = error.message
            options.append(PanelOption(name, math.inf, error.where, 0.0, 0, math.inf))
            continue
        needless = needless_darts(laid)
        if needless:
            refused = f"{name}: {' and '.join(needless)} would have nothing to take up"
            if asked:
                raise InfeasibleError(
                    refused,
                    "panels",
                    "ask for fewer darts, or --set panels=0 lets the cloth decide",
                )
            options.append(PanelOption(name, math.inf, needless[0], 0.0, 0, math.inf))
            continue
        option = option_of(name, laid, limits)
        if option.fits and options and not asked:
            laid = lay_flat(make())
            option = option_of(name, laid, limits)
        options.append(option)
        if asked:
            _check_pull(option)
        if option.fits or asked:
            return laid, tuple(options), name
    best = _nearest(options)
    if best is None:
        raise _no_way(options, limits, refused)
    return lay_flat(dict(ways)[best.name]()), tuple(options), best.name


def grown_panels(
    make: Callable[[int, int, float], Plan], limits: Limits, *, asked: tuple[int, int] | None,
    most: tuple[int, int], mesh_mm: float, first: tuple[int, int] = (1, 1),
) -> tuple[Laid, tuple[PanelOption, ...], str]:  # fmt: skip
    """Return the garment with the fewest panels, added one by one where the cloth is strained most.

    Parameters
    ----------
    make : callable
        Makes the plan of so many panels of one half in front and behind, for a mesh.
    limits : Limits
        What the cloth allows.
    asked : tuple of int or None
        Panels that were asked for; None lets the cloth decide.
    most : tuple of int
        Most panels in front and behind.
    mesh_mm : float
        Distance of the points of the mesh [mm].
    first : tuple of int
        Panels to begin with.

    Returns
    -------
    tuple of (Laid, tuple of PanelOption, str)
        The garment, the ways that were tried, the name of the one taken.

    Raises
    ------
    InfeasibleError
        If no number comes near the limits, with why and what could; or if the number asked for
        cannot be laid flat at all.

    Notes
    -----
    Trials use a mesh 1.4 times as wide; the one taken is laid again on the mesh asked for.

    References
    ----------
    ``guess``: allowed strain by class of cloth.
    """
    if asked is not None:
        return fewest_panels(
            [(_name(asked), lambda: make(*asked, mesh_mm))], limits, asked=_name(asked)
        )
    options: list[PanelOption] = []
    counts, refused = first, ""
    while True:
        behind = counts[0] > counts[1]
        try:
            laid = lay_flat(make(*counts, 1.4 * mesh_mm), finished=False)
        except InfeasibleError as error:
            refused = error.message
            options.append(PanelOption(_name(counts), math.inf, error.where, 0.0, 0, math.inf))
            behind = "back" in error.where
        else:
            option = option_of(_name(counts), laid, limits)
            options.append(option)
            if option.fits:
                laid = lay_flat(make(*counts, mesh_mm))
                option = options[-1] = option_of(_name(counts), laid, limits)
                if option.fits:
                    return laid, tuple(options), _name(counts)
            behind = "back" in option.region
        grown = (counts[0], counts[1] + 1) if behind else (counts[0] + 1, counts[1])
        if grown[0] > most[0] or grown[1] > most[1]:
            break
        counts = grown
    best = _nearest(options)
    if best is None:
        raise _no_way(options, limits, refused)
    front, back = (int(word) for word in best.name.split(" + "))
    return lay_flat(make(front, back, mesh_mm)), tuple(options), best.name


def _nearest(options: Sequence[PanelOption]) -> PanelOption | None:
    """Return the way that misses the limits least, if it misses them by less than a tenth."""
    best = min(options, key=lambda one: one.use)
    return best if best.use <= _NEARLY else None


def _name(counts: tuple[int, int]) -> str:
    return f"{counts[0]} + {counts[1]}"


def _check_pull(option: PanelOption) -> None:
    """Refuse a number of panels that was asked for and that no woven cloth could follow."""
    if not option.fits and option.worst_strain > _MOST_PULL:
        raise InfeasibleError(
            f"{option.name} cannot follow this body: {option.region} would have to stretch by"
            f" {100 * option.worst_strain:.0f} %, {option.use:.1f} times what the cloth gives", "panels",
            "ask for more panels or darts, or --set panels=0 to let the cloth decide; more ease, or"
            " cloth gathered onto a fitted foundation, need not follow the body",
        )  # fmt: skip


def _no_way(options: Sequence[PanelOption], limits: Limits, refused: str) -> InfeasibleError:
    laid = [one for one in options if math.isfinite(one.use)]
    if not laid:
        return InfeasibleError(refused or "nothing can be laid flat", "panels", "measure again")
    best = min(laid, key=lambda one: one.use)
    return InfeasibleError(
        f"no number of panels up to {options[-1].name} dresses this body in this cloth: with"
        f" {best.name}, {best.region} still asks {best.use:.1f} times what it gives"
        f" (along {100 * limits.warp:.1f} %, across {100 * limits.weft:.1f} %)",
        "cloth",
        f"take a cloth that gives {100 * min(limits.warp, limits.weft) * best.use:.1f} %, or more"
        " ease so that it need not follow the body, or gather it onto a fitted foundation; a trial"
        " on a swatch may allow more (warp_limit, weft_limit), and --set panels=N takes it anyway",
    )  # fmt: skip
