"""From a costume's construction to its operations, what must be earlier, and why."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from samite.kernel.errors import UnknownNameError
from samite.kernel.evidence import weakest
from samite.kernel.quantity import Quantity
from samite.tables.close_names import did_you_mean
from samite.tables.sewing import sewing_entry
from samite.work.construction import ClothWork, Construction, ExtraWork, PieceWork, SeamWork
from samite.work.minutes import operation_minutes
from samite.work.operation import HEATS, After, Operation, Setting

HARDEST = ("plain", "sheet", "slippery", "pile", "sequins")
"""Classes of cloth, the easiest first; a seam takes the minutes of its hardest."""

HEMS = ("narrow-hem", "hand-hem")
LAST = ("trim",)
SEWING = ("lockstitch", "zigzag")


def rule(name: str, earlier: str) -> After:
    """Return what must be earlier by a rule of the trade.

    Parameters
    ----------
    name : str
        Name of the rule, a key of ``work_rules.csv``.
    earlier : str
        The earlier operation.

    Returns
    -------
    After
        With the rule's reason and wait.

    Notes
    -----
    Waits that are known by a range stand at its middle.

    References
    ----------
    ``common-practice``: rules of the sewing room.
    """
    entry = sewing_entry("work-rule", name)
    wait = entry.number("wait_min") if entry.has("wait_min") else 0.0
    return After(earlier, entry.word("reason"), round(wait))


def operations_of(construction: Construction) -> tuple[Operation, ...]:
    """Return the operations of a costume.

    Parameters
    ----------
    construction : Construction
        Cloths, pieces, seams and the rest.

    Returns
    -------
    tuple of Operation
        Names begin with that of the costume, so that several can be planned together.

    Raises
    ------
    UnknownNameError
        If a piece, a cloth or a seam is named that is not there.

    Notes
    -----
    Pretreat, test, cut, mark, interface, staystitch, overlock single layers, clear, sew, press
    before crossing, fit, hem after hanging, trim, finish. A cloth is cut and marked in one go. A
    seam with a cloth that bears no iron is pressed by finger, and its neighbours before it is
    sewn.

    References
    ----------
    ``common-practice``: rules of the sewing room.
    """
    return _Maker(construction).run()


def _sum(minutes: Iterable[Quantity]) -> Quantity:
    found = list(minutes)
    grade = weakest(*(one.evidence.grade for one in found))
    return Quantity(
        sum(one.value for one in found),
        sum(one.low for one in found),
        sum(one.high for one in found),
        "min",
        replace(found[0].evidence, grade=grade),
    )


class _Maker:
    def __init__(self, construction: Construction) -> None:
        self.made = construction
        self.cloths = {one.name: one for one in construction.cloths}
        self.pieces = {one.name: one for one in construction.pieces}
        self.seams = {one.name: one for one in construction.seams}
        self._check()
        self.found: list[Operation] = []

    def _check(self) -> None:
        for piece in self.made.pieces:
            self._known(piece.cloth, self.cloths, f"the cloth of {piece.name}")
        for seam in self.made.seams:
            for name in seam.pieces:
                self._known(name, self.pieces, f"a piece of {seam.name}")
            for name in (*seam.crosses, *seam.after):
                self._known(name, self.seams, f"what {seam.name} crosses or follows")
        for extra in self.made.extras:
            for name in extra.pieces:
                self._known(name, self.pieces, f"a piece of {extra.name}")
            for name in extra.before:
                self._known(name, self.seams, f"what {extra.name} comes before")

    def _known(self, name: str, known: Iterable[str], what: str) -> None:
        names = list(known)
        if name not in names:
            raise UnknownNameError(
                f"{what}: there is no {name!r}", self.made.name, did_you_mean(name, names)
            )

    def add(
        self,
        name: str,
        minutes: Quantity,
        kind: str,
        *after: After,
        machines: tuple[str, ...] = (),
        setting: Setting | None = None,
        cloths: Iterable[ClothWork] = (),
        helper: bool = False,
        may_drop: str = "",
        because: str = "",
    ) -> str:
        worked = list(cloths)
        full = f"{self.made.name}: {name}"
        self.found.append(
            Operation(
                full, minutes, kind, self.made.name,
                after=tuple({one.name: one for one in after}.values()),
                machines=machines, setting=setting or Setting(),
                leaves=tuple(dict.fromkeys(x for one in worked for x in one.leaves)),
                shuns=tuple(dict.fromkeys(x for one in worked for x in one.shuns if x not in {y for two in worked for y in two.leaves})),
                helper=helper, may_drop=may_drop, because=because,
            )
        )  # fmt: skip
        return full

    def run(self) -> tuple[Operation, ...]:
        ready = {cloth.name: self._cloth(cloth) for cloth in self.made.cloths}
        pieces = {one.name: self._piece(one, ready[one.cloth]) for one in self.made.pieces}
        flat = [one for one in self.made.extras if one.before]
        closed = [
            one for one in self.made.extras if not one.before and one.element not in (*HEMS, *LAST)
        ]
        zips: dict[str, list[After]] = {}
        for extra in flat:
            made = self._extra(extra, [a for p in extra.pieces for a in pieces[p]])
            for seam in extra.before:
                zips.setdefault(seam, []).append(rule("zip-flat-first", made))
        pressed = self._all_seams(pieces, zips)
        body = [rule("press-before-crossing", name) for name in pressed.values()]
        body = body or [a for one in pieces.values() for a in one]
        shut = [After(self._extra(one, [self._late(one, a) for a in body])) for one in closed]
        fitted = self._fittings([*body, *shut])
        hems = self._hems([*body, *shut], fitted)
        trims = [
            self._extra(one, [rule("trims-last", a.name) for a in hems or fitted or body])
            for one in self.made.extras
            if one.element in LAST
        ]
        ends = [*(a.name for a in (*body, *shut, *fitted, *hems)), *trims]
        last = [rule("all-before-finish", name) for name in dict.fromkeys(ends)]
        self.add(
            "finish",
            operation_minutes(element="finish", cloth_class="any"),
            "finish",
            *last,
            helper=True,
        )
        return tuple(self.found)

    def _late(self, extra: ExtraWork, after: After) -> After:
        return rule("sleeve-after-body", after.name) if extra.element == "sleeve" else after

    def _cloth(self, cloth: ClothWork) -> After:
        """Pretreat, test, cut and mark one cloth; return what its pieces are after."""
        pieces = [one for one in self.made.pieces if one.cloth == cloth.name]
        label = cloth.cloth_class
        first = self.add(
            f"pretreat {cloth.name}",
            operation_minutes(element="pretreat", cloth_class="any"),
            "pretreat",
            helper=True,
        )
        dried = rule("cloth-dries", first) if cloth.washed else rule("pretreat-before-test", first)
        tests = self.add(
            f"swatches of {cloth.name}", operation_minutes(element="swatches", cloth_class=label), "swatches", dried,
            machines=SEWING, setting=cloth.swatches, cloths=[cloth],
        )  # fmt: skip
        if not pieces:
            return rule("test-before-cut", tests)
        count = sum(one.count for one in pieces)
        outline = sum(one.outline_m * one.count for one in pieces)
        cutting = _sum(
            [
                operation_minutes(element="lay", cloth_class=label, pieces=count),
                operation_minutes(element="cut", cloth_class=label, length_m=outline),
            ]
        )
        cut = self.add(
            f"lay and cut {cloth.name}", cutting, "cut", rule("test-before-cut", tests), cloths=[cloth],
            because=f"{count} pieces, {outline:.1f} m of outline",
        )  # fmt: skip
        marking = operation_minutes(element="mark", cloth_class=label, pieces=count)
        marked = self.add(
            f"mark {cloth.name}", marking, "mark", rule("cut-before-mark", cut), cloths=[cloth], helper=True
        )  # fmt: skip
        edges = self._edges(cloth, outline, marked)
        return edges or rule("mark-before-sew", marked)

    def _edges(self, cloth: ClothWork, outline_m: float, marked: str) -> After | None:
        if not cloth.overlock_thread:
            return None
        minutes = operation_minutes(
            element="overedge", cloth_class=cloth.cloth_class, length_m=outline_m
        )
        done = self.add(
            f"overlock {cloth.name}", minutes, "overlock", rule("mark-before-sew", marked),
            machines=("overlocker", "safety-overlocker"), setting=Setting(thread=cloth.overlock_thread),
            cloths=[cloth], helper=True,
        )  # fmt: skip
        return rule("overlock-single-first", done)

    def _piece(self, piece: PieceWork, ready: After) -> list[After]:
        cloth = self.cloths[piece.cloth]
        found = [ready]
        if piece.interfaced_m2 > 0.0:
            minutes = operation_minutes(
                element="fuse", cloth_class="any", pieces=piece.interfaced_m2 * piece.count
            )
            fused = self.add(
                f"interface {piece.name}", minutes, "fuse", ready,
                machines=("iron",), setting=Setting(heat=cloth.heat or HEATS[0]), cloths=[cloth],
            )  # fmt: skip
            found.append(rule("cool-after-fuse", fused))
        if piece.curve_m > 0.0:
            minutes = operation_minutes(
                element="staystitch", cloth_class="any", length_m=piece.curve_m * piece.count
            )
            stayed = self.add(
                f"staystitch {piece.name}", minutes, "staystitch", *found,
                machines=SEWING, setting=cloth.swatches, cloths=[cloth],
            )  # fmt: skip
            found.append(rule("staystitch-first", stayed))
        return found

    def _all_seams(
        self, pieces: dict[str, list[After]], zips: dict[str, list[After]]
    ) -> dict[str, str]:
        """Sew and press every seam; return the name of each pressing."""
        pressed: dict[str, str] = {
            seam.name: f"{self.made.name}: press {seam.name}" for seam in self.made.seams
        }
        neighbours = self._neighbours()
        for seam in self.made.seams:
            after = [a for name in seam.pieces for a in pieces[name]] + zips.get(seam.name, [])
            after += [rule("press-before-crossing", pressed[name]) for name in seam.crosses]
            after += [After(pressed[name]) for name in seam.after]
            after += [
                rule("press-neighbour-first", pressed[name]) for name in neighbours[seam.name]
            ]
            self._seam(seam, after)
        return pressed

    def _neighbours(self) -> dict[str, list[str]]:
        """Seams to be pressed before a cloth that bears no iron is joined to their pieces."""
        before = {one.name: {*one.crosses, *one.after} for one in self.made.seams}
        found: dict[str, list[str]] = {one.name: [] for one in self.made.seams}
        for seam in self.made.seams:
            if all(self._cloth_of(name).heat for name in seam.pieces):
                continue
            firm = {name for name in seam.pieces if self._cloth_of(name).heat}
            for other in self.made.seams:
                bears = all(self._cloth_of(name).heat for name in other.pieces)
                if (
                    bears
                    and firm & set(other.pieces)
                    and not _reaches(before, other.name, seam.name)
                ):
                    found[seam.name].append(other.name)
                    before[seam.name].add(other.name)
        return found

    def _cloth_of(self, piece: str) -> ClothWork:
        return self.cloths[self.pieces[piece].cloth]

    def _hardest(self, pieces: Iterable[str]) -> str:
        return max((self._cloth_of(name).cloth_class for name in pieces), key=HARDEST.index)

    def _seam(self, seam: SeamWork, after: list[After]) -> None:
        label = self._hardest(seam.pieces)
        cloths = list(
            {self._cloth_of(name).name: self._cloth_of(name) for name in seam.pieces}.values()
        )
        if seam.clear:
            minutes = operation_minutes(
                element="clear", cloth_class="sequins", length_m=seam.length_m
            )
            cleared = self.add(
                f"clear {seam.name}", minutes, "clear", *after, cloths=cloths, helper=True
            )
            after = [*after, rule("clear-before-sew", cleared)]
        if seam.baste:
            minutes = operation_minutes(element="baste", cloth_class=label, length_m=seam.length_m)
            after = [
                After(
                    self.add(
                        f"baste {seam.name}", minutes, "baste", *after, cloths=cloths, helper=True
                    ),
                    "basted first",
                )
            ]
        minutes = _sum(
            operation_minutes(element=one, cloth_class=label, length_m=seam.length_m)
            for one in ("hold", "sew")
        )
        sewn = self.add(
            f"sew {seam.name}", minutes, "sew", *after, machines=seam.machines, setting=seam.setting, cloths=cloths,
            because=f"hold and sew {seam.length_m:g} m of {label} cloth",
        )  # fmt: skip
        heats = [one.heat for one in cloths]
        iron = all(heats)
        pressing = operation_minutes(
            element="press", cloth_class=label if iron else "sequins", length_m=seam.length_m
        )
        self.add(
            f"press {seam.name}", pressing, "press", rule("press-after-sew", sewn),
            machines=("iron",) if iron else (),
            setting=Setting(heat=min(heats, key=HEATS.index)) if iron else None,
            because="" if iron else "by finger: a cloth of it bears no iron",
        )  # fmt: skip

    def _extra(self, extra: ExtraWork, after: list[After]) -> str:
        label = self._hardest(extra.pieces) if extra.pieces else "plain"
        minutes = operation_minutes(
            element=extra.element, cloth_class=label, length_m=extra.length_m, pieces=extra.count
        )
        cloths = {self._cloth_of(name).name: self._cloth_of(name) for name in extra.pieces}
        return self.add(
            extra.name, minutes, extra.element, *after, machines=extra.machines, setting=extra.setting,
            cloths=cloths.values(), helper=not extra.machines, may_drop=extra.may_drop,
        )  # fmt: skip

    def _fittings(self, after: list[After]) -> list[After]:
        before = [After(one.name, "what is fitted is sewn first") for one in after]
        found: list[After] = []
        for name, at in self.made.fittings:
            minutes = operation_minutes(element="fitting", cloth_class="any")
            full = self.add(name, minutes, "fitting", *before, *found)
            self.found[-1] = replace(self.found[-1], at=at)
            found = [After(full, "one fitting after the other")]
        return found

    def _hems(self, body: list[After], fitted: list[After]) -> list[After]:
        found = []
        for extra in self.made.extras:
            if extra.element not in HEMS:
                continue
            hangs = any(self.pieces[name].hangs for name in extra.pieces)
            after = [rule("fit-before-hem", one.name) for one in fitted]
            after += [rule("hang-before-hem", one.name) if hangs else one for one in body]
            found.append(After(self._extra(extra, after), "hemmed first"))
        return found


def _reaches(before: dict[str, set[str]], start: str, goal: str) -> bool:
    seen, left = set(), [start]
    while left:
        name = left.pop()
        if name == goal:
            return True
        if name not in seen:
            seen.add(name)
            left += before[name]
    return False
