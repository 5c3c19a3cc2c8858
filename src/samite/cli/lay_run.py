"""What ``samite lay`` does with its options."""

from __future__ import annotations

import json
import signal
import sys
import threading
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self

import click

from samite.cli.output_file import write_file
from samite.cli.pairs import read_pairs
from samite.cli.store_option import today
from samite.cli.text_file import read_text
from samite.kernel.errors import InputError
from samite.kernel.units import parse_quantity
from samite.lay.problem import Lay, Problem
from samite.services.lay import LayAnswer, lay_json, problem_json, solve_lay

if TYPE_CHECKING:
    from samite.sheets.lay_sheet import LayPicture

AGAIN = ("cut", "spoilt", "turned_out", "lengths")
LONGEST_BOUGHT_MM = 5e5
"""Nobody asks a shop for more than this; a longer lay is told without what to buy [mm]."""

PIECES_ONLY = (
    "others", "measures", "body", "settings", "allowances", "age", "size", "shrink", "lining",
    "facings", "cloth", "lining_cloth", "interfacing", "test_cloth", "crosswise", "joins",
    "pretreated", "widths",
)  # fmt: skip


def run_file(what: str, given: dict[str, Any]) -> None:
    """Lay the problem of a file.

    Parameters
    ----------
    what : str
        The file.
    given : dict of str to object
        The options.

    Raises
    ------
    InputError
        If an option belongs to computed pieces.
    """
    from samite.readers.lay_file import read_lay_problem

    for name in PIECES_ONLY:
        if given[name]:
            option = _option_of(name)
            raise InputError(
                f"{option} belongs to computed pieces; the file says it all", option, "leave it out"
            )
    problem = read_lay_problem(read_text(Path(what), "FILE.json", "JSON"))
    problem = _as_it_turned_out(problem, given)
    answer = _solve(problem, given)
    buy = _buy_of_file(answer, given) if answer.found else None
    if answer.found:
        _draw_and_keep(answer, buy, what, given)
    _write_problem(problem, given)
    if given["as_json"]:
        document = lay_json(answer)
        if given["options"] and buy:
            document["options"] = _file_options(answer, given)
        click.echo(json.dumps(document))
        return
    from samite.cli.lay_text import answer_text, option_line

    click.echo(answer_text(answer, buy, given["units"]))
    if given["options"] and buy:
        for one in _file_options(answer, given):
            click.echo(f"  otherwise, {option_line(one, given['units'])}")


def _draw_and_keep(
    answer: LayAnswer, buy: dict[str, Any] | None, what: str, given: dict[str, Any]
) -> None:
    """Write what was asked for; the picture takes a while and is made for that only."""
    if not any(given[name] for name in ("svg", "pdf", "dxf", "keep")):
        return
    from samite.cli.lay_text import answer_text

    one_way = _one_way(answer.problem)
    there = buy["buy_mm"] if buy else 0.0
    picture = _picture(answer, Path(what).stem, given, nap=one_way, there_mm=there)
    _write_drawings(picture, given, answer_text(answer, buy, given["units"]).splitlines()[:3])
    if given["keep"]:
        _keep(answer, "", picture.bought_mm, given, one_way=one_way)


def _option_of(name: str) -> str:
    named = {"others": "with", "measures": "measure", "settings": "set", "allowances": "allow"}
    return "--" + named.get(name, name if name == "test_cloth" else name.rstrip("s")).replace(
        "_", "-"
    )


def _one_way(problem: Problem) -> bool:
    return all(set(piece.angles_deg or (0.0,)) <= {0.0} for piece in problem.pieces)


def _as_it_turned_out(problem: Problem, given: dict[str, Any]) -> Problem:
    from samite.lay.again import pinned, rest_problem
    from samite.services.lay_again import read_copies, read_flaw, read_lay, read_trouble

    if given["remnant"]:
        from samite.services.stock import kept_remnant

        remnant = kept_remnant(given["store"], given["remnant"])
        problem = replace(problem, outline_mm=remnant.outline_mm, width_mm=remnant.size_mm[1])
    lay = read_lay(read_text(given["lay"], "--lay", "JSON")) if given["lay"] else None
    if given["pin"]:
        return pinned(problem, _needed(lay, "--pin"), read_copies(problem, given["pin"], "--pin"))
    if any(given[name] for name in AGAIN) or (given["flaw"] and lay):
        trouble = read_trouble(
            problem, cut=given["cut"], spoilt=given["spoilt"], width=given["turned_out"],
            flaws=given["flaw"], lengths=given["lengths"],
        )  # fmt: skip
        needs_lay = bool(given["cut"] or given["spoilt"])
        return rest_problem(
            problem, _needed(lay, "--cut") if needs_lay else lay or _none(), trouble
        )
    flaws = tuple(read_flaw(text) for text in given["flaw"])
    return replace(problem, holes=(*problem.holes, *flaws))


def _none() -> Lay:
    return Lay("feasible")


def _needed(lay: Lay | None, option: str) -> Lay:
    if lay is None:
        raise InputError("which lay was being cut?", option, "give it with --lay FILE")
    return lay


def _solve(problem: Problem, given: dict[str, Any]) -> LayAnswer:
    with _Stop() as stop:
        return solve_lay(
            problem, seconds=given["seconds"], seed=given["seed"],
            on_better=lambda lay: _progress(lay.length_mm, lay.bound_mm), cancelled=stop.asked,
        )  # fmt: skip


class _Stop:
    """Takes the first Ctrl-C as a wish for the best so far; the second ends the program."""

    def __init__(self) -> None:
        self._asked = False
        self._before: Any = None

    def __enter__(self) -> Self:
        if threading.current_thread() is threading.main_thread():
            self._before = signal.signal(signal.SIGINT, self._ask)
        return self

    def __exit__(self, *_: object) -> None:
        if self._before is not None:
            signal.signal(signal.SIGINT, self._before)

    def _ask(self, *_: object) -> None:
        if self._asked:
            raise KeyboardInterrupt
        self._asked = True
        click.echo("stopping: the best so far is taken", err=True)

    def asked(self) -> bool:
        """Whether to stop."""
        return self._asked


def _progress(length_mm: float, bound_mm: float) -> None:
    """Tell the best so far on standard error, where a person is watching."""
    if sys.stderr.isatty():
        best = f", {bound_mm / 10.0:.1f} cm at best" if bound_mm else ""
        click.echo(f"\rbest so far {length_mm / 10.0:.1f} cm{best}   ", err=True, nl=False)


def _step_mm(given: dict[str, Any]) -> float:
    from samite.services.lay_buy import usual_step_mm

    return parse_quantity(given["step"], "mm") if given["step"] else usual_step_mm(given["units"])


def _buy_of_file(answer: LayAnswer, given: dict[str, Any]) -> dict[str, Any] | None:
    from samite.services.lay_buy import Extra, buy_json

    if answer.problem.outline_mm is not None or answer.lay.length_mm > LONGEST_BOUGHT_MM:
        return None
    extra = Extra(step_mm=_step_mm(given))
    return buy_json(answer.lay.length_mm, answer.lay.bound_mm, extra)


def _picture(
    answer: LayAnswer, title: str, given: dict[str, Any], *, nap: bool, there_mm: float,
    face: str = "", cloth: str = "",
) -> LayPicture:  # fmt: skip
    from samite.services.lay_paper import lay_picture

    return lay_picture(
        answer, title, face=face or given["face"], nap=nap, cloth=cloth,
        bought_mm=there_mm,
        table_mm=parse_quantity(given["table"], "mm") if given["table"] else 0.0,
        units=given["units"],
    )  # fmt: skip


def _write_drawings(picture: LayPicture, given: dict[str, Any], facts: list[str]) -> None:
    from samite.services import lay_paper

    if given["svg"]:
        write_file(given["svg"], lay_paper.draw_svg(picture).encode("utf-8"), "--svg")
    if given["pdf"]:
        write_file(given["pdf"], lay_paper.draw_pdf(picture, given["paper"], facts), "--pdf")
    if given["dxf"]:
        drawn = lay_paper.draw_dxf(picture).encode("cp1252", errors="replace")
        write_file(given["dxf"], drawn, "--dxf")


def _write_problem(problem: Problem, given: dict[str, Any]) -> None:
    if given["problem"]:
        text = json.dumps(problem_json(problem), indent=1) + "\n"
        write_file(given["problem"], text.encode("utf-8"), "--problem")


def _keep(
    answer: LayAnswer, label: str, bought_mm: float, given: dict[str, Any], *, one_way: bool
) -> None:
    from samite.services.lay_keep import keep_offcuts, lay_offcuts

    found = lay_offcuts(answer.problem, answer.lay, bought_mm)
    keys = keep_offcuts(given["store"], label, found, today(), one_way=one_way)
    click.echo(f"kept as remnants: {', '.join(keys) or 'nothing worth it'}", err=True)


def _file_options(answer: LayAnswer, given: dict[str, Any]) -> list[dict[str, Any]]:
    from samite.services.lay_buy import Extra
    from samite.services.lay_options import bare_options, option_json

    extra = Extra(step_mm=_step_mm(given))
    return [
        option_json(option, extra, None, answer, seconds=given["seconds"], seed=given["seed"])
        for option in bare_options(answer.problem)
    ]


def run_pieces(what: str, given: dict[str, Any]) -> None:
    """Lay computed pieces.

    Parameters
    ----------
    what : str
        A shape.
    given : dict of str to object
        The options.

    Raises
    ------
    InputError
        If an option belongs to a problem in a file.
    """
    from samite.cli.lay_text import costume_text
    from samite.services.lay_costume import costume_json, solve_costume

    for name in (*AGAIN, "pin", "flaw", "remnant", "lay"):
        if given[name]:
            option = "--" + name.replace("_", "-").removesuffix("s")
            raise InputError(
                f"{option} goes with a problem in a file", option,
                "write the problem with --problem FILE, then lay that file",
            )  # fmt: skip
    ask = _ask(what, given)
    with _Stop() as stop:
        solved = solve_costume(
            ask, seconds=given["seconds"], seed=given["seed"], on_better=_progress,
            cancelled=stop.asked,
        )  # fmt: skip
    seconds = given["seconds"] if given["options"] else 0.0
    document = costume_json(ask, solved, options_seconds=seconds, seed=given["seed"])
    drawn = [one for one in solved if one.answer.found]
    for number, one in enumerate(drawn):
        numbered = {
            **given,
            **{name: _numbered(given[name], number) for name in ("svg", "pdf", "dxf", "problem")},
        }
        rules = one.case.rules
        picture = _picture(
            one.answer, one.title, numbered, nap=rules.one_way, there_mm=one.there_mm,
            face=rules.face, cloth=one.case.label,
        )  # fmt: skip
        facts = costume_text((one,), {"lays": [document["lays"][solved.index(one)]]}, ask.units)
        _write_drawings(picture, numbered, [line.strip() for line in facts.splitlines()[:5]])
        _write_problem(one.answer.problem, numbered)
        if given["keep"]:
            _keep(one.answer, one.case.label, picture.bought_mm, given, one_way=rules.one_way)
    if given["as_json"]:
        click.echo(json.dumps(document, ensure_ascii=False))
        return
    click.echo(costume_text(solved, document, ask.units))


def _numbered(path: Path | None, number: int) -> Path | None:
    """Return the name of the file for a lay: the second becomes ``name-2.svg``."""
    if path is None or number == 0:
        return path
    return path.with_name(f"{path.stem}-{number + 1}{path.suffix}")


def _ask(what: str, given: dict[str, Any]) -> Any:
    from samite.services.lay_cases import LayAsk
    from samite.services.piece_ask import PieceAsk

    first = PieceAsk(
        what,
        read_pairs(given["measures"], "--measure"),
        read_pairs(given["settings"], "--set"),
        read_pairs(given["allowances"], "--allow"),
        group=given["group"],
        age=given["age"],
        size=given["size"],
        shrink=given["shrink"],
        lining=given["lining"],
        facings=given["facings"],
    )
    if given["body"]:
        from samite.services.bodies import with_body

        first = with_body(first, given["store"], given["body"])
    bare = replace(first, settings={}, facings=())
    cloths = {
        "shell": given["cloth"],
        "lining": given["lining_cloth"],
        "interfacing": given["interfacing"],
        "test garment": given["test_cloth"],
    }
    return LayAsk(
        (first, *(replace(bare, shape=name) for name in given["others"])),
        cloths,
        given["widths"],
        {True: "folded", False: "open", None: ""}[given["folded"]],
        {True: "one-way", False: "either-way", None: ""}[given["one_way"]],
        given["crosswise"],
        given["joins"],
        given["pretreated"],
        given["flaws_seen"],
        given["units"],
    )
