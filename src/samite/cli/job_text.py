"""A costume job in the terminal: what it comes to, what is wrong, where the files are."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from samite.cli.card_text import WIDTH

if TYPE_CHECKING:
    from samite.readers.problem import Problem
    from samite.services.make import MadeJob

BAR = 24


def progress(quiet: bool) -> Callable[[int, int, str], None] | None:
    """Return what shows how far a job is.

    Parameters
    ----------
    quiet : bool
        Show nothing.

    Returns
    -------
    callable or None
        Writes one line on standard error, over and over.
    """
    if quiet or not sys.stderr.isatty():
        return None

    def show(done: int, whole: int, name: str) -> None:
        full = round(BAR * done / max(whole, 1))
        bar = "#" * full + "." * (BAR - full)
        click.echo(f"\r{bar} {done + 1}/{whole} {name[:40]:40}", err=True, nl=False)
        if done + 1 >= whole:
            click.echo("\r" + " " * (BAR + 60) + "\r", err=True, nl=False)

    return show


def job_text(made: MadeJob, folder: Path, written: Sequence[Path]) -> str:
    """Return a job on one screen.

    Parameters
    ----------
    made : MadeJob
        The job.
    folder : Path
        Where the files are.
    written : sequence of Path
        The files.

    Returns
    -------
    str
        Text.
    """
    project = made.job.project
    lines = ["=" * WIDTH, project.title.upper(), "=" * WIDTH]
    for costume in project.costumes:
        pieces = [n for n in made.all_of("piece") if n.startswith(f"{costume.name}/")]
        lines.append(f"{costume.name} for {costume.person}: {len(pieces)} shapes")
        lines += _wrapped(_labels(made.answer(f"labels/{costume.name}")))
        seams = made.answer(f"seams/{costume.name}")
        lines += _wrapped([f"! {gap.told}" for gap in (seams[1] if seams else ())])
    work = made.answer("work")
    if work:
        lines += ["-" * WIDTH, "WORK", *_wrapped([work["words"]])]
    lines += buying_text(made.answer("buy"))
    lines += problems_text(made.problems)
    lines += ["-" * WIDTH, f"{len(written)} files in {folder}/; job.json holds everything"]
    return "\n".join(lines)


def _labels(labels: dict[str, Any] | None) -> list[str]:
    if not labels:
        return []
    content = "; ".join(labels["content"]["eu"]["lines"])
    return [f"care: {labels['care']['words']}", f"content: {content}"]


def _wrapped(texts: Sequence[str]) -> list[str]:
    return [
        line
        for text in texts
        for line in textwrap.wrap(
            text, WIDTH - 4, initial_indent="    ", subsequent_indent="      "
        )
    ]


def buying_text(buy: dict[str, Any] | None) -> list[str]:
    """Return the buying list as lines.

    Parameters
    ----------
    buy : dict of str to object or None
        In the form ``samite.buy.v1``; None if it could not be had.

    Returns
    -------
    list of str
        One a thing, and the sum.
    """
    if not buy:
        return []
    sign = buy["currency"]
    lines = ["-" * WIDTH, "TO BUY"]
    for line in buy["lines"]:
        if line["buy"] <= 0:
            continue
        lines += _buying_line(line, sign)
    there = [line for line in buy["lines"] if line["buy"] <= 0 < line["needed"]]
    if there:
        lines += ["THERE", *_wrapped([_there(line) for line in there])]
    total = buy["sum"]
    lines.append(f"{'sum':>12}: {total['gross']:.2f} {sign}" + _left(total, sign))
    if total["unpriced"]:
        lines.append(f"{len(total['unpriced'])} things have no price yet, so the sum is too low")
    asked = buy["quotation"]
    if asked:
        low, high = asked["work_range"]
        lines.append(
            f"quotation: {asked['total']:.2f} {sign} (work {asked['work']:.2f}, {low:.0f} to "
            f"{high:.0f}); deposit {asked['deposit']:.2f}"
        )
    return lines


def _buying_line(line: dict[str, Any], sign: str) -> list[str]:
    """Return a line of the list, its name wrapped and never cut off."""
    cost = "" if line["cost"] is None else f"{line['cost']:.2f} {sign}"
    first, *rest = textwrap.wrap(line["what"], WIDTH - 31)
    lines = [f"[ ] {line['amount']:>10}  {first:{WIDTH - 31}} {cost:>13}".rstrip()]
    rest += textwrap.wrap(line["stock"], WIDTH - 31)
    return lines + [f"{'':16}{text}" for text in rest]


def _there(line: dict[str, Any]) -> str:
    stock = f" ({line['stock']})" if line["stock"] else ""
    return f"{line['needs']} of {line['what']}{stock}"


def _left(total: dict[str, Any], sign: str) -> str:
    if total["left"] is None:
        return ""
    if total["left"] < 0:
        return f", {-total['left']:.2f} {sign} over the budget of {total['budget']:.2f}"
    return f", {total['left']:.2f} {sign} left of {total['budget']:.2f}"


def problems_text(problems: Sequence[Problem]) -> list[str]:
    """Return what is wrong as lines.

    Parameters
    ----------
    problems : sequence of Problem
        What is wrong.

    Returns
    -------
    list of str
        Place, what and how to mend it.
    """
    if not problems:
        return []
    lines = ["-" * WIDTH, f"{len(problems)} THINGS TO MEND"]
    for one in problems:
        lines += _wrapped([f"{one.place}: {one.what} ({one.mend})"])
    return lines
