"""``samite press``: how to press a cloth, or the bare layer solver."""

from __future__ import annotations

import json
from pathlib import Path

import click

from samite.cli.label_input import label_from
from samite.kernel.errors import InputError
from samite.services.press import press_card, press_stack


@click.command("press")
@click.argument("label", nargs=-1, required=False)
@click.option("--stack", type=click.Path(dir_okay=False, path_type=Path), help="Layers as JSON.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
def command(label: tuple[str, ...], stack: Path | None, as_json: bool) -> None:
    """Say how to press the cloth of a LABEL, or solve the layers in FILE (--stack)."""
    if stack is not None:
        if label:
            raise InputError("give a LABEL or --stack FILE, not both", "LABEL", "leave one out")
        document = press_stack(_read(stack))
        for warning in document.get("warnings", []):
            click.echo(f"samite: warning: {warning}", err=True)
        click.echo(json.dumps(document, indent=1 if not as_json else None))
        return
    answer = press_card(label_from(label))
    click.echo(json.dumps(answer, ensure_ascii=False, indent=1))


def _read(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except OSError as error:
        raise InputError(f"cannot read {path}: {error.strerror}", "--stack", "name a file") from None
    except UnicodeDecodeError:
        raise InputError(f"{path} is not text", "--stack", "name a JSON file") from None
