"""Files that ``samite piece`` writes, and what is said of a drawing that it reads."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from samite.cli.output_file import write_file

if TYPE_CHECKING:
    from samite.pieces.finish import FinishedPiece


@dataclass(frozen=True, slots=True)
class Files:
    """Where pieces are written.

    Parameters
    ----------
    svg, pdf, dxf : Path or None
        Files; None writes none.
    paper : str
        Paper of the PDF.
    roll_width : str
        Width of the roll.
    """

    svg: Path | None
    pdf: Path | None
    dxf: Path | None
    paper: str
    roll_width: str

    @property
    def any(self) -> bool:
        """Whether a file is wanted."""
        return bool(self.svg or self.pdf or self.dxf)

    def write(self, title: str, pieces: Sequence[FinishedPiece]) -> None:
        """Write the files that are wanted.

        Parameters
        ----------
        title : str
            Title of drawing and pages.
        pieces : sequence of FinishedPiece
            The pieces.
        """
        if not self.any:
            return
        from samite.services.piece_paper import sheets_dxf, sheets_pdf, sheets_svg

        if self.svg:
            write_file(self.svg, sheets_svg(title, pieces).encode("utf-8"), "--svg")
        if self.pdf:
            data = sheets_pdf(title, pieces, self.paper, self.roll_width)
            write_file(self.pdf, data, "--pdf")
        if self.dxf:
            text = sheets_dxf(title, pieces).encode("cp1252", errors="replace")
            write_file(self.dxf, text, "--dxf")


@dataclass(frozen=True, slots=True)
class Said:
    """What is said of a drawing.

    Parameters
    ----------
    answers : mapping of str to str
        Answers by key.
    file : Path or None
        A file of more answers, JSON; those beside it win.
    sewn : tuple of str
        Its seams.
    """

    answers: Mapping[str, str]
    file: Path | None
    sewn: tuple[str, ...]
