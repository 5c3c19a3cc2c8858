"""``samite lay``: a cutting lay of a problem in a file, or of computed pieces."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from samite.cli.lay_run import run_file, run_pieces
from samite.cli.output_file import OUT
from samite.cli.piece import GROUPS
from samite.cli.store_option import STORE
from samite.cli.text_file import GIVEN
from samite.kernel.errors import InputError

LENGTH, NAME = "LENGTH", "NAME"


@click.command("lay")
@click.argument("what", metavar="[FILE.json | SHAPE]", required=False)
@click.option("--seconds", default=10.0, show_default=True, help="Time to search for a lay.")
@click.option("--seed", default=0, show_default=True, help="Start of the random numbers.")
@click.option("--svg", type=OUT, metavar="FILE", help="Draw it to scale.")
@click.option("--pdf", type=OUT, metavar="FILE", help="Print it: the whole, then every metre.")
@click.option("--dxf", type=OUT, metavar="FILE", help="Write it at full size.")
@click.option("--paper", default="a4", show_default=True, help="Paper of the PDF.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
@click.option("--units", type=click.Choice(["metric", "imperial"]), default="metric")
@click.option("--table", default="", metavar=LENGTH, help="Length of the cutting table.")
@click.option("--step", default="", metavar=LENGTH, help="What the shop cuts by.")
@click.option("--face", type=click.Choice(["up", "down"]), default="up", help="Of a FILE: side up.")
@click.option("--options", is_flag=True, help="Lay other choices too: what each would save.")
@click.option("--lay", type=GIVEN, metavar="FILE", help="A lay of it, to go on from.")
@click.option("--cut", multiple=True, metavar=NAME, help="A piece that is cut and good.")
@click.option("--spoilt", multiple=True, metavar=NAME, help="A piece that was cut wrong.")
@click.option("--pin", multiple=True, metavar=NAME, help="A piece that stays where it lies.")
@click.option("--turned-out", default="", metavar=LENGTH, help="Width as it turned out.")
@click.option("--flaw", multiple=True, metavar="PLACE", help='"30 x 120 x 5 x 4 cm".')
@click.option("--length", "lengths", multiple=True, metavar=LENGTH, help="Lengths that came.")
@click.option("--remnant", default="", metavar="KEY", help="Lay it on a remnant that is kept.")
@click.option("--keep", is_flag=True, help="Put what is left into the stock.")
@click.option("--problem", type=OUT, metavar="FILE", help="Write the problem that was solved.")
@click.option("--with", "others", multiple=True, metavar="SHAPE", help="More shapes.")
@click.option("--measure", "measures", multiple=True, metavar="NAME=LENGTH", help="A measure.")
@click.option("--body", default="", metavar=NAME, help="A body that is kept.")
@STORE
@click.option("--set", "settings", multiple=True, metavar="NAME=VALUE", help="A parameter.")
@click.option("--allow", "allowances", multiple=True, metavar="EDGE=LENGTH", help="An allowance.")
@click.option("--group", type=click.Choice(GROUPS), default="adult", help="Whose statistics.")
@click.option("--age", default="", help="Age of a child.")
@click.option("--size", default="", help="A women's size to start from, 00 to 20.")
@click.option("--shrink", default="", metavar="PERCENT", help="Enlarge the pieces by this.")
@click.option("--lining", is_flag=True, help="Linings too.")
@click.option("--facing", "facings", multiple=True, metavar="EDGE", help="Face this edge.")
@click.option("--cloth", default="", metavar="LABEL", help="What the bolt says.")
@click.option("--lining-cloth", default="", metavar="LABEL", help="Cloth of the lining.")
@click.option("--interfacing", default="", metavar="LABEL", help="Cloth behind the facings.")
@click.option("--test-cloth", default="", metavar="LABEL", help="Cloth of a test garment.")
@click.option("--width", "widths", multiple=True, metavar=LENGTH, help="A width on offer.")
@click.option("--folded/--open", "folded", default=None, help="Insist on the fold, or on none.")
@click.option("--one-way/--either-way", "one_way", default=None, help="Insist on the nap.")
@click.option("--crosswise", multiple=True, metavar=NAME, help="May be cut across the cloth.")
@click.option("--join", "joins", multiple=True, metavar="NAME@SHARE", help="Made of two.")
@click.option("--pretreated", is_flag=True, help="The cloth is shrunk already.")
@click.option("--flaws-seen", is_flag=True, help="The length was looked over.")
def command(what: str | None, **given: Any) -> None:
    """Lay pieces on cloth: how much to buy, how to cut it.

    The pieces come from a FILE.json (samite.lay-problem.v1) or are computed from a SHAPE:
    samite lay tunic --with trousers --cloth "cotton velvet, 140 cm, 18.90/m" --pdf lay.pdf
    """
    if what is None:
        raise InputError(
            "lay what?", "FILE.json or SHAPE", "name a problem file, or a shape of samite piece"
        )
    if given["seconds"] < 0 or given["seconds"] > 3600:
        raise InputError("that is no time to search", "--seconds", "from 0 to 3600")
    run = run_file if what.endswith(".json") or Path(what).is_file() else run_pieces
    run(what, given)
