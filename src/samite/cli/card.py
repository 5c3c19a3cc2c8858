"""``samite card``: one cloth on one screen."""

from __future__ import annotations

import json
import sys
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from samite.cli.card_text import card_text
from samite.cli.iron_option import IRON, iron_from
from samite.cli.label_input import label_from
from samite.cli.output_file import OUT, write_drawing, write_file
from samite.cli.store_option import STORE
from samite.cli.text_file import GIVEN
from samite.cli.workroom_file import workroom_text
from samite.kernel.errors import InputError
from samite.services.card import card_json, make_card
from samite.services.past import past_of

if TYPE_CHECKING:
    from samite.services.seam import SeamSheet
    from samite.tables.irons import Iron
from samite.sheets.papers import PAPERS


@click.command("card")
@click.argument("label", nargs=-1, required=False)
@click.option("--for", "use", default="", metavar="WORDS", help='"lined, on skin, one night"')
@IRON
@STORE
@click.option("--with", "other", default="", metavar="LABEL2", help="Join it to another cloth.")
@click.option("--workroom", type=GIVEN, metavar="FILE", help="What you own, as TOML.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
@click.option("--why", "depth", type=click.IntRange(1, 9), help="Show reasons down to this depth.")
@click.option(
    "--units", type=click.Choice(["metric", "imperial"]), default="metric", help="Units shown."
)
@click.option("--pdf", type=OUT, metavar="FILE", help="Write the card as one page of PDF.")
@click.option("--paper", type=click.Choice(PAPERS), default="a4", help="Paper of the page.")
@click.option("--dated", type=click.DateTime(["%Y-%m-%d"]), help="Date to print on the page.")
@click.option("--svg", type=OUT, metavar="FILE", help="Draw the layers under the iron.")
def command(
    label: tuple[str, ...],
    use: str,
    iron: str,
    store: Path,
    other: str,
    workroom: Path | None,
    as_json: bool,
    depth: int | None,
    units: str,
    pdf: Path | None,
    paper: str,
    dated: datetime | None,
    svg: Path | None,
) -> None:
    """Answer how to prepare, cut, sew, finish and press the cloth of a LABEL.

    The LABEL is free text as read off a bolt or a shop page, or "-" for standard input:
    samite card "94% polyester 6% elastane velvet with glued glitter, 150 cm, 280 g/m2"
    """
    if workroom and not other:
        raise InputError("--workroom belongs to a joint", "--workroom", "add --with LABEL2")
    text, mine = label_from(label), iron_from(iron, store)
    past = past_of(store, text, iron=iron)
    card = make_card(text, use, window=True, iron=mine, past=past)
    joint = _joint(text, other, use, workroom, mine) if other else None
    if pdf:
        from samite.services.paper import card_pdf

        date = dated.date() if dated else None
        write_file(pdf, card_pdf(card, paper=paper, units=units, dated=date, joint=joint), "--pdf")
    if svg:
        from samite.services.paper import layers_svg

        write_drawing(svg, layers_svg(card))
    if as_json:
        document = card_json(card) | ({"with": _joint_json(joint)} if joint else {})
        click.echo(json.dumps(document, ensure_ascii=False, indent=1))
        return
    bold = sys.stdout.isatty()
    click.echo(card_text(card, depth=depth or 0, units=units, bold=bold))
    if joint:
        from samite.cli.seam_text import seam_text

        click.echo(seam_text(joint, why=bool(depth), bold=bold, cautions=False, units=units))


def _joint(label: str, other: str, use: str, workroom: Path | None, iron: Iron | None) -> SeamSheet:
    from samite.services.seam import SeamQuestion, make_seam

    question = SeamQuestion((label, other), use, workroom_text(workroom))
    return make_seam(question, window=True, iron=iron)


def _joint_json(joint: SeamSheet) -> dict[str, object]:
    from samite.services.seam_json import seam_json

    return seam_json(joint)
