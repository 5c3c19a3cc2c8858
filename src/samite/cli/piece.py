"""``samite piece``: one computed shape."""

from __future__ import annotations

import json
import sys
from datetime import datetime
from pathlib import Path

import click

from samite.cli.output_file import OUT, write_file
from samite.cli.pairs import read_pairs
from samite.cli.piece_files import Files, Said
from samite.cli.store_option import STORE
from samite.kernel.errors import InputError

PAPER_NAMES = ("a4", "us-letter", "a3", "a0", "roll")
IN = click.Path(dir_okay=False, path_type=Path)
GROUPS = ("adult", "women", "men", "girls", "boys")


@click.command("piece")
@click.argument("shape", required=False)
@click.option("--measure", "measures", multiple=True, metavar="NAME=LENGTH", help="A body measure.")
@click.option("--body", default="", metavar="NAME", help="A body that is kept.")
@STORE
@click.option("--set", "settings", multiple=True, metavar="NAME=VALUE", help="A parameter.")
@click.option("--allow", "allowances", multiple=True, metavar="EDGE=LENGTH", help="An allowance.")
@click.option("--seam", "seams", multiple=True, metavar="EDGE=SEAM", help="A seam for an edge.")
@click.option(
    "--corner", "corners", multiple=True, metavar="EDGE=RULE", help="Ends of an allowance."
)
@click.option("--alter", "alterations", multiple=True, metavar="WORDS", help="What was pinned.")
@click.option("--group", type=click.Choice(GROUPS), default="adult", help="Whose statistics.")
@click.option("--age", default="", help="Age of a child.")
@click.option("--size", default="", help="A women's size to start from, 00 to 20.")
@click.option("--layers", default="", metavar="LENGTH", help="Thickness worn beneath.")
@click.option("--turn-of-cloth", default="", metavar="LENGTH", help="More for outer layers.")
@click.option("--shrink", default="", metavar="PERCENT", help='Along and across: "4 %; 2 %".')
@click.option("--cloth", default="", help="Name of the cloth for the labels.")
@click.option("--one-way", is_flag=True, help="The cloth has a nap or a one-way print.")
@click.option("--lining", is_flag=True, help="Linings too.")
@click.option("--facing", "facings", multiple=True, metavar="EDGE", help="Face this edge.")
@click.option("--width", default="", metavar="LENGTH", help="Width of the cloth for the lay.")
@click.option("--hang", default="", metavar="CLOTH", help="Raise hems where the bias will drop.")
@click.option("--bias", is_flag=True, help="Cut all pieces on the bias.")
@click.option("--svg", type=OUT, metavar="FILE", help="Write a drawing at full size.")
@click.option(
    "--overview", type=OUT, metavar="FILE", help="All pieces beside the body, small: SVG or PDF."
)
@click.option(
    "--with", "others", multiple=True, metavar="SHAPE", help="More shapes of the costume."
)
@click.option("--pdf", type=OUT, metavar="FILE", help="Write tiles at full size.")
@click.option("--paper", type=click.Choice(PAPER_NAMES), default="a4", help="Paper of the tiles.")
@click.option("--roll-width", default="", metavar="LENGTH", help="Width of the roll.")
@click.option("--dxf", type=OUT, metavar="FILE", help="Write DXF by the layers of ASTM D6673.")
@click.option("--dated", type=click.DateTime(["%Y-%m-%d"]), help="Date to print on the labels.")
@click.option("--from", "drawing", type=IN, metavar="FILE", help="Read pieces of your own SVG.")
@click.option("--unit", default="", metavar="LENGTH", help="Length of a unit of that drawing.")
@click.option("--answer", "answers", multiple=True, metavar="KEY=VALUE", help="About it.")
@click.option("--answers", "answer_file", type=IN, metavar="FILE", help="The same as JSON.")
@click.option("--sew", "sewn", multiple=True, metavar="SEAM", help="A seam of that drawing.")
@click.option(
    "--units", type=click.Choice(["metric", "imperial"]), default="metric", help="Units shown."
)
@click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
@click.option("--list", "listing", is_flag=True, help="Shapes and their parameters.")
def command(
    shape: str | None,
    measures: tuple[str, ...],
    body: str,
    store: Path,
    settings: tuple[str, ...],
    allowances: tuple[str, ...],
    seams: tuple[str, ...],
    corners: tuple[str, ...],
    alterations: tuple[str, ...],
    group: str,
    age: str,
    size: str,
    layers: str,
    turn_of_cloth: str,
    shrink: str,
    cloth: str,
    one_way: bool,
    lining: bool,
    facings: tuple[str, ...],
    width: str,
    hang: str,
    bias: bool,
    svg: Path | None,
    overview: Path | None,
    others: tuple[str, ...],
    pdf: Path | None,
    paper: str,
    roll_width: str,
    dxf: Path | None,
    dated: datetime | None,
    drawing: Path | None,
    unit: str,
    answers: tuple[str, ...],
    answer_file: Path | None,
    sewn: tuple[str, ...],
    units: str,
    as_json: bool,
    listing: bool,
) -> None:
    """Compute the pieces of a SHAPE from measures; a bare length is in centimetres.

    For example: samite piece circle-skirt --measure waist_girth="70 cm" --set fraction=0.5
    """
    from samite.services.piece_ask import PieceAsk

    if listing:
        _show_list(shape, as_json)
        return
    if shape is None and drawing is None:
        raise InputError("which shape?", "SHAPE", "samite piece --list shows all shapes")
    ask = PieceAsk(
        shape or "",
        read_pairs(measures, "--measure"),
        read_pairs(settings, "--set"),
        read_pairs(allowances, "--allow"),
        read_pairs(seams, "--seam"),
        alterations,
        group,
        age,
        size,
        layers,
        shrink,
        cloth,
        one_way,
        lining,
        facings,
        dated.date().isoformat() if dated else "",
        turn_of_cloth,
        width,
        hang,
        bias,
        read_pairs(corners, "--corner"),
    )
    files = Files(svg, pdf, dxf, paper, roll_width)
    if drawing:
        from samite.cli.piece_import import show_import

        said = Said(read_pairs(answers, "--answer"), answer_file, sewn)
        show_import(drawing, unit, ask, said, files, as_json=as_json)
        return
    if body:
        from samite.services.bodies import with_body

        ask = with_body(ask, store, body)
    from samite.services.fitted_swatches import with_swatches

    ask = with_swatches(ask, store, others)
    from samite.services.costume import costume_pdf, costume_svg, make_costume

    if sys.stderr.isatty() and any(name.startswith("fitted") for name in (shape or "", *others)):
        click.echo("computing the surface and laying it flat ...", err=True)
    costume = make_costume(ask, others)
    if overview:
        on_page = overview.suffix.casefold() == ".pdf"
        data = costume_pdf(costume, paper) if on_page else costume_svg(costume).encode("utf-8")
        write_file(overview, data, "--overview")
    files.write(costume.title, costume.pieces)
    if as_json:
        from samite.services.piece_json import piece_json

        made = [piece_json(answer) for answer in costume.answers]
        document = made[0] if len(made) == 1 else {"format": "samite.costume.v1", "shapes": made}
        click.echo(json.dumps(document, ensure_ascii=False))
        return
    from samite.cli.piece_text import piece_text

    click.echo("\n\n".join(piece_text(answer, units) for answer in costume.answers))


def _show_list(shape: str | None, as_json: bool) -> None:
    from samite.services.piece import shape_list

    listed = [one for one in shape_list() if shape in (None, one["name"])]
    if as_json:
        document = {"format": "samite.piece-list.v1", "shapes": listed}
        click.echo(json.dumps(document, ensure_ascii=False))
        return
    from samite.cli.piece_text import list_text

    click.echo(list_text(listed))
