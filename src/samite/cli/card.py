"""``samite card``: one cloth on one screen."""

from __future__ import annotations

import json
import sys
from datetime import datetime
from pathlib import Path

import click

from samite.cli.card_text import card_text
from samite.cli.label_input import label_from
from samite.cli.output_file import OUT, PAPERS, write_drawing, write_file
from samite.cli.text_file import GIVEN, iron_from
from samite.services.card import card_json, make_card


@click.command("card")
@click.argument("label", nargs=-1, required=False)
@click.option("--for", "use", default="", metavar="WORDS", help='"lined, on skin, one night"')
@click.option("--iron", type=GIVEN, metavar="FILE", help="Your own iron, samite.iron.v1.")
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
    iron: Path | None,
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
    card = make_card(label_from(label), use, window=True, iron=iron_from(iron))
    if pdf:
        from samite.services.paper import card_pdf

        date = dated.date() if dated else None
        write_file(pdf, card_pdf(card, paper=paper, units=units, dated=date), "--pdf")
    if svg:
        from samite.services.paper import layers_svg

        write_drawing(svg, layers_svg(card))
    if as_json:
        click.echo(json.dumps(card_json(card), ensure_ascii=False, indent=1))
        return
    bold = sys.stdout.isatty()
    click.echo(card_text(card, depth=depth or 0, units=units, bold=bold))
