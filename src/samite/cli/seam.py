"""``samite seam``: how to join two or three cloths."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click

from samite.cli.iron_option import IRON, iron_from
from samite.cli.output_file import OUT, write_file
from samite.cli.seam_text import seam_text
from samite.cli.store_option import STORE
from samite.cli.text_file import GIVEN
from samite.cli.workroom_file import workroom_text


@click.command("seam")
@click.argument("labels", nargs=-1, required=True, metavar="LABEL [LABEL2] [LABEL3]")
@click.option("--for", "use", default="", metavar="WORDS", help='"fitted, unlined, curved"')
@click.option("--run", "runs", default="", metavar="WORDS", help='"along, bias": in each cloth.')
@click.option(
    "--behind", default="", metavar="SIDE", help="Where a third lies: first, second, both."
)
@click.option("--place", default="", metavar="PLACE", help="On the body: knee-lengthwise.")
@click.option("--ease", default="", metavar="PERCENT", help='Negative ease: "10 %".')
@IRON
@STORE
@click.option("--workroom", type=GIVEN, metavar="FILE", help="What you own, as TOML.")
@click.option("--stitch", default="", metavar="ISO", help="A stitch type that you insist on, 514.")
@click.option("--seam", "form", default="", metavar="TYPE", help="A seam you insist on, SSae.")
@click.option("--thread", default="", metavar="TEX", help='A thread you insist on, "tex 40".')
@click.option(
    "--units", type=click.Choice(["metric", "imperial"]), default="metric", help="Units shown."
)
@click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
@click.option("--why", is_flag=True, help="Show what counted, and what was ruled out.")
@click.option("--svg", type=OUT, metavar="FILE", help="Draw the seam to scale.")
def command(
    labels: tuple[str, ...],
    use: str,
    runs: str,
    behind: str,
    place: str,
    ease: str,
    iron: str,
    store: Path,
    workroom: Path | None,
    stitch: str,
    form: str,
    thread: str,
    units: str,
    as_json: bool,
    why: bool,
    svg: Path | None,
) -> None:
    """Answer how to join the cloths of two or three LABELs; one LABEL is joined to itself.

    Each LABEL is one argument, in quotes:
    samite seam "silk organza, 140 cm" "95% polyester 5% elastane stretch velvet"
    """
    from samite.services.seam import SeamQuestion, make_seam
    from samite.services.seam_json import seam_json
    from samite.services.seam_learnt import seam_pasts

    room = workroom_text(workroom)
    question = SeamQuestion(labels, use, room, runs, stitch, form, thread, place, ease, behind)
    pasts = seam_pasts(store, labels)
    sheet = make_seam(question, window=True, iron=iron_from(iron, store), pasts=pasts)
    if svg:
        from samite.services.seam_picture import seam_svg

        write_file(svg, seam_svg(sheet, units).encode("utf-8"), "--svg")
    if as_json:
        click.echo(json.dumps(seam_json(sheet), ensure_ascii=False, indent=1))
        return
    click.echo(seam_text(sheet, why=why, bold=sys.stdout.isatty(), units=units))
