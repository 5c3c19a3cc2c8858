"""Steps of work that a costume needs, from its seams and cloths: what, after what, set to what."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.project.model import Costume, Extra
from samite.project.seams import JobSeam

HANGS = ("circle-skirt", "cape", "hooded-cloak", "train", "gored-skirt", "peplum", "flounce")
"""Shapes whose hems hang before they are levelled (common practice)."""

WASHED = ("cotton", "linen", "viscose", "wool", "hemp")
"""Fibres that shrink when they are first wetted (common practice)."""


@dataclass(frozen=True, slots=True)
class After:
    """A step that comes before another.

    Parameters
    ----------
    name : str
        Name of the earlier step.
    rule : str
        Why: a key of the rules of work.
    """

    name: str
    rule: str


@dataclass(frozen=True, slots=True)
class Tools:
    """What a step is done on.

    Parameters
    ----------
    machine : str
        Kind of machine; empty for table and hands.
    needle : str
        Point and size; empty if it does not matter.
    thread : str
        Fibre, size and cloth that it matches; empty if it does not matter.
    foot : str
        Presser foot; empty if it does not matter.
    heat : str
        ``low``, ``medium`` or ``high``; empty without an iron.
    """

    machine: str = ""
    needle: str = ""
    thread: str = ""
    foot: str = ""
    heat: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the work.

    Parameters
    ----------
    name : str
        Its name, no other step has it.
    element : str
        What sort of work, a word of the table of minutes.
    cloth_class : str
        ``plain``, ``slippery``, ``pile``, ``sequins`` or ``sheet``.
    costume : str
        Costume that it belongs to; empty for all.
    length_mm : float
        Length, for what is counted by the metre [mm].
    count : int
        Number, for what is counted by the piece [count].
    after : tuple of After
        What comes before it.
    tools : Tools
        What it is done on.
    leaves : tuple of str
        What it leaves behind.
    shuns : tuple of str
        What must not lie about when it is done.
    helper : bool
        Whether a helper can take it over.
    """

    name: str
    element: str
    cloth_class: str
    costume: str = ""
    length_mm: float = 0.0
    count: int = 1
    after: tuple[After, ...] = ()
    tools: Tools = field(default_factory=Tools)
    leaves: tuple[str, ...] = ()
    shuns: tuple[str, ...] = ()
    helper: bool = False


@dataclass(frozen=True, slots=True)
class CutFacts:
    """What is cut from one cloth.

    Parameters
    ----------
    name : str
        Name of the cloth.
    cloth : Cloth
        The cloth.
    pieces : int
        How many pieces [count].
    rim_mm : float
        Length of all their cut lines [mm].
    """

    name: str
    cloth: Cloth
    pieces: int
    rim_mm: float


@dataclass(frozen=True, slots=True)
class SeamFacts:
    """How one seam is sewn and pressed.

    Parameters
    ----------
    seam : JobSeam
        The seam.
    tools : Tools
        Machine, needle, thread and foot.
    overlocked : bool
        Whether its edges are overlocked before anything is joined.
    heat : str
        Heat of the iron; empty if it is not pressed.
    """

    seam: JobSeam
    tools: Tools
    overlocked: bool
    heat: str


def cloth_class(cloth: Cloth) -> str:
    """Return the class by which the table of minutes knows a cloth.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    str
        ``sequins``, ``sheet``, ``pile``, ``slippery`` or ``plain``.

    References
    ----------
    ``common-practice``: classes by what slows the work.
    """
    if cloth.has(PartKind.SEQUINS, PartKind.BEADS):
        return "sequins"
    if cloth.construction in ("film", "leather", "foam"):
        return "sheet"
    if cloth.pile_height_mm > 0.0:
        return "pile"
    return "slippery" if cloth.slippery >= 2 or cloth.sheer else "plain"


def leavings(cloth: Cloth) -> tuple[str, ...]:
    """Return what a cloth leaves on the table and the iron when it is cut.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    tuple of str
        ``glitter``, ``fur`` or ``dark-fluff``; empty for a clean one.

    References
    ----------
    ``common-practice``: glitter and fluff travel to the next cloth.
    """
    found = []
    if cloth.has(PartKind.GLITTER, PartKind.SEQUINS, PartKind.DOTS):
        found.append("glitter")
    if cloth.pile_height_mm >= 5.0:
        found.append("fur")
    elif cloth.pile_height_mm > 0.0:
        found.append("dark-fluff")
    return tuple(found)


def shunned(cloth: Cloth) -> tuple[str, ...]:
    """Return what shows on a cloth and must not lie about.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    tuple of str
        For sheer and slippery cloth everything that clings; empty otherwise.

    References
    ----------
    ``common-practice``: light satin and sheers show every fibre.
    """
    return ("glitter", "fur", "dark-fluff") if cloth.sheer or cloth.slippery >= 2 else ()


def cloth_steps(facts: Iterable[CutFacts], swatch_tools: Mapping[str, Tools]) -> list[Step]:
    """Return what is done to every cloth before it is sewn.

    Parameters
    ----------
    facts : iterable of CutFacts
        Cloths and what is cut from them.
    swatch_tools : mapping of str to Tools
        What each is tested with, by name of the cloth.

    Returns
    -------
    list of Step
        Pretreating, swatches, laying, cutting and marking, in order.

    References
    ----------
    ``common-practice``: pretreat, test, cut, mark.
    """
    steps = []
    for one in facts:
        name, kind = one.name, cloth_class(one.cloth)
        washed = any(one.cloth.share(fibre) >= 30 for fibre in WASHED)
        first = After(f"pretreat {name}", "cloth-dries" if washed else "pretreat-before-test")
        steps += [
            Step(f"pretreat {name}", "pretreat", kind, helper=True),
            Step(f"swatches of {name}", "swatches", kind, after=(first,),
                 tools=swatch_tools.get(name, Tools())),
            Step(f"lay {name}", "lay", kind, count=one.pieces, helper=True,
                 after=(After(f"swatches of {name}", "test-before-cut"),),
                 shuns=shunned(one.cloth)),
            Step(f"cut {name}", "cut", kind, length_mm=one.rim_mm,
                 after=(After(f"lay {name}", "test-before-cut"),),
                 leaves=leavings(one.cloth), shuns=shunned(one.cloth)),
            Step(f"mark {name}", "mark", kind, count=one.pieces, helper=True,
                 after=(After(f"cut {name}", "cut-before-mark"),)),
        ]  # fmt: skip
    return steps


def costume_steps(
    costume: Costume, facts: Sequence[SeamFacts], cloths: Mapping[str, Cloth]
) -> list[Step]:
    """Return the work on one costume once its cloths are cut.

    Parameters
    ----------
    costume : Costume
        The costume.
    facts : sequence of SeamFacts
        Its seams and hems.
    cloths : mapping of str to Cloth
        Cloths by name.

    Returns
    -------
    list of Step
        Fusing, overlocking, sewing, pressing, fitting, hems, fastenings, trims and finishing.

    Notes
    -----
    Seams of one shape in the same cloths are one step. A costume that is made several times has its
    lengths and counts multiplied.

    References
    ----------
    ``common-practice``: press before crossing, hems after hanging, trims last.
    """
    steps = _fusing(costume, cloths)
    sewn: dict[str, str] = {}
    for group in _groups(facts):
        steps += _seam_steps(costume, group, cloths, sewn, {one.name for one in steps})
    closed = tuple(dict.fromkeys(sewn.values()))
    steps += _closing(costume, cloths, closed)
    steps += _hems(costume, facts, cloths, closed)
    ends = tuple(After(one.name, "all-before-finish") for one in steps if one.element != "press")
    steps.append(
        Step(
            f"finish {costume.name}",
            "finish",
            "plain",
            costume.name,
            count=costume.copies,
            after=ends,
        )
    )
    return steps


def _named(costume: Costume, words: str) -> str:
    return f"{costume.name}: {words}"


def _fusing(costume: Costume, cloths: Mapping[str, Cloth]) -> list[Step]:
    return [
        Step(
            _named(costume, f"interface the {job.name}"), "fuse", cloth_class(cloths[job.cloth]),
            costume.name, count=costume.copies,
            after=(After(f"mark {job.cloth}", "mark-before-sew"),
                   After(f"cut {job.interfacing}", "mark-before-sew")),
            tools=Tools("iron", heat="medium"),
        )
        for job in costume.pieces
        if job.interfacing in cloths and job.cloth in cloths
    ]  # fmt: skip


def _groups(facts: Sequence[SeamFacts]) -> list[list[SeamFacts]]:
    """Put the seams of one shape in the same cloths together, hems left out."""
    groups: dict[tuple[str, tuple[str, ...]], list[SeamFacts]] = {}
    for one in facts:
        if one.seam.kind in ("seam", "gathered"):
            owner = one.seam.name.partition(":")[0]
            groups.setdefault((owner, one.seam.cloths), []).append(one)
    return list(groups.values())


def _seam_steps(
    costume: Costume,
    group: Sequence[SeamFacts],
    cloths: Mapping[str, Cloth],
    sewn: dict[str, str],
    there: set[str],
) -> list[Step]:
    """Return overlocking, sewing and pressing of one group; note what ends it."""
    first = group[0]
    owner = first.seam.name.partition(":")[0]
    lining = first.seam.name.endswith(", lining")
    name = f"{owner} lining" if lining else owner
    length = sum(one.seam.length_mm for one in group) * costume.copies
    kind = max((cloth_class(cloths[c]) for c in first.seam.cloths), key=SLOWNESS.index)
    marked = tuple(After(f"mark {c}", "mark-before-sew") for c in dict.fromkeys(first.seam.cloths))
    steps = []
    before: tuple[After, ...] = marked
    if first.overlocked:
        edges = _named(costume, f"overlock {name}")
        steps.append(
            Step(edges, "overedge", kind, costume.name, 2.0 * length, after=marked, helper=True,
                 tools=Tools("overlocker", thread=first.tools.thread))
        )  # fmt: skip
        before = (After(edges, "overlock-single-first"),)
    fused = _named(costume, f"interface the {owner}")
    if fused in there:
        before = (*before, After(fused, "fuse-before-sew"))
    before = (*before, *_earlier(costume, first.seam, sewn))
    sewing = _named(costume, f"sew {name}")
    steps.append(Step(sewing, "sew", kind, costume.name, length, after=before, tools=first.tools))
    sewn[name] = sewing
    if first.heat:
        pressing = _named(costume, f"press {name}")
        steps.append(
            Step(pressing, "press", kind, costume.name, length, tools=Tools("iron", heat=first.heat),
                 after=(After(sewing, "press-after-sew"),))
        )  # fmt: skip
        sewn[name] = pressing
    return steps


SLOWNESS = ("plain", "slippery", "sheet", "pile", "sequins")


def _earlier(costume: Costume, seam: JobSeam, sewn: Mapping[str, str]) -> list[After]:
    """Return what a join or a lining waits for."""
    if seam.name.endswith(", lining"):
        return []
    found = [
        After(sewn[name], "press-before-crossing")
        for piece in seam.pieces
        for name in (piece, f"{piece} lining")
        if name in sewn
    ]
    named = [After(sewn[name], "press-before-crossing") for name in seam.after if name in sewn]
    return [
        one
        for one in (*found, *named)
        if not one.name.startswith(f"{costume.name}: sew {seam.name}")
    ]


def _closing(costume: Costume, cloths: Mapping[str, Cloth], closed: Sequence[str]) -> list[Step]:
    kind = cloth_class(cloths[costume.pieces[0].cloth])
    steps = [
        Step(_named(costume, f"fasten {one.name}"), "zip" if "zip" in one.kind else "finish",
             kind, costume.name, count=_times(one, costume),
             after=tuple(After(name, "small-parts-first") for name in closed))
        for one in costume.fastenings
    ]  # fmt: skip
    steps.append(
        Step(_named(costume, "fitting"), "fitting", "plain", costume.name,
             after=tuple(After(name, "fit-before-closing") for name in closed))
    )  # fmt: skip
    fitted = (After(_named(costume, "fitting"), "trims-last"),)
    steps += [
        Step(_named(costume, f"sew on {one.name}"), "trim", kind, costume.name,
             count=_times(one, costume) if one.unit == "each" else costume.copies, after=fitted)
        for one in costume.trims
    ]  # fmt: skip
    return steps


def _times(extra: Extra, costume: Costume) -> int:
    return max(round(extra.amount), 1) * costume.copies


def _hems(
    costume: Costume, facts: Sequence[SeamFacts], cloths: Mapping[str, Cloth], closed: Sequence[str]
) -> list[Step]:
    """Return one step for the hems of a shape; those that drop hang before."""
    shapes = {job.name: job.shape for job in costume.pieces}
    lengths: dict[str, list[SeamFacts]] = {}
    for one in facts:
        if one.seam.kind == "hem":
            lengths.setdefault(one.seam.name.partition(":")[0], []).append(one)
    steps = []
    for owner, group in lengths.items():
        kind = cloth_class(cloths[group[0].seam.cloths[0]])
        length = sum(one.seam.length_mm for one in group) * costume.copies
        before = [After(_named(costume, "fitting"), "fit-before-hem")]
        if shapes.get(owner) in HANGS and closed:
            before += [After(name, "hang-before-hem") for name in closed]
        element = "hand-hem" if kind in ("pile", "sequins") else "narrow-hem"
        tools = Tools() if element == "hand-hem" else group[0].tools
        steps.append(
            Step(_named(costume, f"hem {owner}"), element, kind, costume.name, length,
                 after=tuple(before), tools=tools)
        )  # fmt: skip
    return steps
