"""``samite calc``: any closed-form function of the engines by name."""

from __future__ import annotations

import json

import click

from samite.kernel.errors import InputError
from samite.services.calc import LIST_FORMAT, CalcAnswer, calc_names, calculate
from samite.services.calc_describe import Description, describe


@click.command("calc")
@click.argument("name", required=False)
@click.argument("inputs", nargs=-1, metavar="[KEY=VALUE]...")
@click.option("--unit", default="", help="Unit wanted for the answer.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
@click.option("--list", "listing", is_flag=True, help="Names, arguments and units.")
def command(
    name: str | None, inputs: tuple[str, ...], unit: str, as_json: bool, listing: bool
) -> None:
    """Answer any closed-form function by NAME, inputs read with units.

    For example: samite calc thread-ratio stitch_type=301 thickness="1 mm" stitch_length="12 spi"
    """
    if listing:
        _show_list([describe(one) for one in calc_names() if name in (None, one)], as_json)
        return
    if name is None:
        raise InputError("which function?", "name", "samite calc --list shows all names")
    answer = calculate(name, _pairs(inputs), unit)
    if as_json:
        click.echo(json.dumps(answer.as_dict(), ensure_ascii=False))
    else:
        click.echo(_line(answer))


def _pairs(inputs: tuple[str, ...]) -> dict[str, str]:
    pairs: dict[str, str] = {}
    for text in inputs:
        key, mark, value = text.partition("=")
        if not mark:
            raise InputError(f"{text!r} is no input", text, 'write KEY=VALUE, e.g. width="60 in"')
        if key in pairs:
            raise InputError(f"{key} is given twice", text, "give it once")
        pairs[key] = value
    return pairs


def _line(answer: CalcAnswer) -> str:
    values = answer.value if isinstance(answer.value, list) else [answer.value]
    told = "; ".join(f"{v:.6g}" if isinstance(v, float) else str(v) for v in values)
    unit = "" if answer.unit in {"", "1"} else f" {answer.unit}"
    span = "" if answer.low is None else f" ({answer.low:.6g} to {answer.high:.6g})"
    return f"{told}{unit}{span}  [{answer.source}, {answer.grade}]"


def _show_list(descriptions: list[Description], as_json: bool) -> None:
    if as_json:
        functions = [description.as_dict() for description in descriptions]
        click.echo(json.dumps({"format": LIST_FORMAT, "functions": functions}, ensure_ascii=False))
        return
    for description in descriptions:
        unit = f" [{description.unit}]" if description.unit else ""
        click.echo(f"{description.name}{unit}: {description.summary}")
        for argument in description.arguments:
            what = argument.unit or argument.kind
            optional = "" if argument.required else ", optional"
            click.echo(f"    {argument.name} [{what}{optional}]: {argument.says}")
