"""``samite rescue``: it has gone wrong; what to try on this cloth, and when to stop."""

from __future__ import annotations

import json
import textwrap

import click

from samite.cli.card_text import WIDTH
from samite.cli.label_input import label_from
from samite.services.rescue import rescue_view, trouble_names


@click.command("rescue")
@click.argument("trouble")
@click.argument("label", nargs=-1, required=False)
@click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
def command(trouble: str, label: tuple[str, ...], as_json: bool) -> None:
    """Say what to try, in which order, when TROUBLE has come to the cloth of a LABEL.

    For example: samite rescue "water ring" "silk charmeuse, 90 g/m2". The word "list" in place of
    TROUBLE names the troubles known.
    """
    if trouble == "list":
        names = trouble_names()
        click.echo(json.dumps(names) if as_json else "\n".join(names))
        return
    view = rescue_view(trouble, label_from(label))
    click.echo(json.dumps(view, ensure_ascii=False) if as_json else _text(view))


def _text(view: dict[str, object]) -> str:
    lines = ["=" * WIDTH, f"RESCUE  {view['trouble']} on {view['cloth']}", "=" * WIDTH]
    for number, step in enumerate(_list(view, "steps"), start=1):
        lines += _wrapped(f"{number}", f"{step['do']} ({step['why']}) [{step['grade']}]")
    for item in _list(view, "left_out"):
        lines += _wrapped("not", f"{item['do']}: {item['because']}")
    lines += _wrapped("STOP", str(view["stop"]))
    for item in _list(view, "cautions"):
        lines += _wrapped("mind", str(item["text"]))
    return "\n".join(lines)


def _list(view: dict[str, object], key: str) -> list[dict[str, object]]:
    found = view[key]
    return found if isinstance(found, list) else []


def _wrapped(tag: str, text: str) -> list[str]:
    first, *rest = textwrap.wrap(text, WIDTH - 6) or [""]
    return [f"{tag:<6}{first}", *(" " * 6 + line for line in rest)]
