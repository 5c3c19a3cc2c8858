"""A plan read again from its moments alone: change-overs by name, waiting, and whatever is wrong."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from samite.work.operation import Setting
from samite.work.plan import Change, Line, Score, came
from samite.work.problem import TABLE, WorkProblem
from samite.work.setup import heat_lag_minutes, warm_up_minutes

PARTS = ("needle", "thread", "foot")
ROUNDING_MIN = 0.76
"""Settings are rounded to half minutes: so much a line may differ from the sum [min]."""


@dataclass
class _Room:
    """Where everything stands while the lines are gone through."""

    settings: dict[str, Setting]
    dirt: set[tuple[str, str]]
    at: dict[str, str]
    last: dict[str, Line]
    over: dict[str, Line]


def with_changes(problem: WorkProblem, lines: Sequence[Line]) -> tuple[Line, ...]:
    """Name the change-overs and the waiting before every line.

    Parameters
    ----------
    problem : WorkProblem
        The job.
    lines : sequence of Line
        In any order, with makers, machines and moments.

    Returns
    -------
    tuple of Line
        In the order of beginning.

    Notes
    -----
    The moments are taken as they are; only what stands in machines is worked out anew.

    References
    ----------
    ``derivation``: docs/models/work.md, reading a plan again.
    """
    room = _room(problem)
    told = []
    before: dict[tuple[str, int], Line] = {}
    came = _came(problem, lines)
    on: set[tuple[str, int, str]] = set()
    for line in sorted(lines, key=lambda one: (one.work, one.end)):
        here = (line.maker, line.session)
        changes = _changes(problem, room, line)
        if _warm_up(problem, line) and (*here, line.machine) not in on:
            changes = (_switching_on(problem, line), *changes)
            on.add((*here, line.machine))
        since = before[here].end if here in before else came[here]
        waited = (line.begin - since).total_seconds() / 60.0
        told.append(replace(line, changes=changes, waited_min=max(waited, 0.0)))
        before[here] = line
    return tuple(told)


def _warm_up(problem: WorkProblem, line: Line) -> float:
    """Minutes that its iron needs from the maker's coming on; 0 if it is none, or on."""
    kind = next((one.kind for one in problem.machines if one.name == line.machine), TABLE)
    if kind != "iron":
        return 0.0
    maker = next(one for one in problem.makers if one.name == line.maker)
    opens = max(one.begin for one in maker.sessions if one.begin <= line.work)
    on = line.machine in problem.hot() and opens <= problem.start
    return 0.0 if on else warm_up_minutes(problem.change)


def _came(problem: WorkProblem, lines: Sequence[Line]) -> dict[tuple[str, int], datetime]:
    """When every maker must come to every session, cold irons thought of."""
    came: dict[tuple[str, int], datetime] = {}
    for line in lines:
        here = (line.maker, line.session)
        on = line.work - timedelta(minutes=_warm_up(problem, line))
        came[here] = min(came.get(here, line.begin), line.begin, on)
    return came


def _switching_on(problem: WorkProblem, line: Line) -> Change:
    words = f"{line.machine} on: {warm_up_minutes(problem.change):g} min before"
    return Change("on", "", "on", 0.0, words)


def _room(problem: WorkProblem) -> _Room:
    return _Room({one.name: one.now for one in problem.machines}, set(), {}, {}, {})


def _changes(problem: WorkProblem, room: _Room, line: Line) -> tuple[Change, ...]:
    change, operation = problem.change, line.operation
    found = []
    place = room.at.get(line.maker)
    if place is not None and place != line.machine and operation.at is None:
        found.append(
            Change("move", place, line.machine, change.of("move"), f"go to the {line.machine}")
        )
    if line.machine != TABLE:
        found += _settings(problem, room, line)
    for name in operation.shuns:
        where = "room" if change.contaminations[name].place == "room" else line.machine
        if (name, where) in room.dirt:
            entry = change.contaminations[name]
            words = f"clean off {name.replace('-', ' ')}: {entry.mind}"
            found.append(Change("clean", name, "", entry.minutes.value, words))
            room.dirt.discard((name, where))
    for name in operation.leaves:
        where = "room" if change.contaminations[name].place == "room" else line.machine
        room.dirt.add((name, where))
    room.at[line.maker] = line.machine
    return tuple(found)


def _settings(problem: WorkProblem, room: _Room, line: Line) -> list[Change]:
    kind = next(one.kind for one in problem.machines if one.name == line.machine)
    now, wanted = room.settings[line.machine], line.operation.setting
    parts = () if kind == "steamer" else ("heat",) if kind == "iron" else PARTS
    found = []
    for part in parts:
        old, new = getattr(now, part), getattr(wanted, part)
        if not new or new == old:
            continue
        minutes = problem.change.of("dial" if part == "heat" else part)
        if part == "thread":
            minutes += problem.change.of("tension")
        found.append(Change(part, old, new, minutes, _words(part, new)))
        now = replace(now, **{part: new})
    room.settings[line.machine] = now
    return found


def _words(part: str, new: str) -> str:
    if part == "thread":
        return f"thread {new}, bobbin too; try the tension on a scrap"
    if part == "heat":
        return f"iron to {new}; let it settle, try a scrap"
    return f"{part} {new}"


def score(lines: Sequence[Line]) -> Score:
    """Return what a plan takes.

    Parameters
    ----------
    lines : sequence of Line
        With their change-overs.

    Returns
    -------
    Score
        Times and counts.

    Notes
    -----
    A maker is there from the first to the last of a session.

    References
    ----------
    ``definition``: sums of intervals.
    """
    spans: dict[tuple[str, int], list[Line]] = {}
    for line in lines:
        spans.setdefault((line.maker, line.session), []).append(line)
    there = sum(
        (max(one.end for one in held) - came(held)).total_seconds() / 60.0
        for held in spans.values()
    )
    work = sum((line.end - line.work).total_seconds() / 60.0 for line in lines)
    change = sum(line.change_minutes for line in lines)
    count = sum(1 for line in lines for one in line.changes if one.what not in ("move", "on"))
    return Score(there, work, change, there - work - change, count)


def check_plan(problem: WorkProblem, lines: Sequence[Line]) -> list[str]:
    """Return everything in which a plan breaks a rule.

    Parameters
    ----------
    problem : WorkProblem
        The job.
    lines : sequence of Line
        The plan, from any solver.

    Returns
    -------
    list of str
        One sentence each; empty for a sound plan.

    Notes
    -----
    Reads moments and names only, shares nothing with the solvers.

    References
    ----------
    ``definition``: the rules of docs/models/work.md.
    """
    by_name = {line.operation.name: line for line in lines}
    wrong = [f"{one.name} is not in the plan" for one in problem.left() if one.name not in by_name]
    if len(by_name) != len(lines):
        wrong.append("an operation stands in it twice")
    for line in lines:
        wrong += _broken_order(problem, line, by_name)
        wrong += _broken_session(problem, line)
    wrong += _overlaps(lines, "maker")
    wrong += _overlaps([line for line in lines if line.machine != TABLE], "machine")
    wrong += _broken_set_ups(problem, lines)
    wrong += _cold_irons(problem, lines)
    return wrong


def _broken_order(problem: WorkProblem, line: Line, by_name: dict[str, Line]) -> list[str]:
    wrong = []
    done = {one.name: one.end for one in problem.finished}
    name = line.operation.name
    for after in line.operation.after:
        end = by_name[after.name].end if after.name in by_name else done.get(after.name)
        if end is not None and line.work < end + timedelta(minutes=after.wait_min):
            wrong.append(f"{name} begins before {after.name} is over and waited for")
    if line.operation.at and line.work != line.operation.at:
        wrong.append(f"{name} misses its appointment")
    if line.begin < problem.start:
        wrong.append(f"{name} begins before now")
    wanted = line.operation.machines
    machine = next((one for one in problem.machines if one.name == line.machine), None)
    if wanted and not (machine and machine.can(wanted)):
        wrong.append(f"{name} is on {line.machine}, which cannot do it")
    return wrong


def _broken_session(problem: WorkProblem, line: Line) -> list[str]:
    maker = next(one for one in problem.makers if one.name == line.maker)
    held = any(one.begin <= line.begin and line.end <= one.end for one in maker.sessions)
    able = line.operation.helper or not maker.helper
    named = not line.operation.makers or maker.name in line.operation.makers
    wrong = [] if held else [f"{line.operation.name} is outside the sessions of {maker.name}"]
    return wrong if able and named else [*wrong, f"{maker.name} cannot do {line.operation.name}"]


def _cold_irons(problem: WorkProblem, lines: Sequence[Line]) -> list[str]:
    wrong = []
    for line in lines:
        warm = timedelta(minutes=_warm_up(problem, line))
        makers = [one for one in problem.makers if one.name == line.maker]
        opens = [one.begin for maker in makers for one in maker.sessions if one.begin <= line.work]
        if warm and line.work < max(*opens, problem.start) + warm:
            wrong.append(f"the iron is still cold for {line.operation.name}")
    return wrong


def _overlaps(lines: Sequence[Line], whose: str) -> list[str]:
    wrong = []
    held: dict[str, Line] = {}
    for line in sorted(lines, key=lambda one: (one.begin, one.end)):
        key = getattr(line, whose)
        earlier = held.get(key)
        if earlier and line.begin < earlier.end:
            wrong.append(f"{line.operation.name} and {earlier.operation.name} overlap on {key}")
        held[key] = line
    return wrong


def _broken_set_ups(problem: WorkProblem, lines: Sequence[Line]) -> list[str]:
    room = _room(problem)
    wrong = []
    for line in sorted(lines, key=lambda one: (one.work, one.end)):
        heat = room.settings[line.machine].heat if line.machine != TABLE else ""
        needed = sum(one.minutes for one in _changes(problem, room, line))
        name = line.operation.name
        if abs(line.change_minutes - needed) > ROUNDING_MIN:
            wrong.append(f"{name} is set up in {line.change_minutes:g} min, it takes {needed:g}")
        earlier = room.last.get(line.machine)
        if earlier and line.operation.setting.heat:
            kind = next(one.kind for one in problem.machines if one.name == line.machine)
            lag = heat_lag_minutes(heat, line.operation.setting.heat, problem.change)
            if kind == "iron" and line.work < earlier.end + timedelta(minutes=lag):
                wrong.append(f"the iron is not ready for {name}")
        if line.machine != TABLE:
            room.last[line.machine] = line
    return wrong
