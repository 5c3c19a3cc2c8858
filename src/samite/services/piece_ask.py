"""What a person asks of a shape, and what is answered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from samite.garment.body import Body
from samite.kernel.reasons import Reason
from samite.pieces.finish import FinishedPiece
from samite.pieces.fitting import Fitted
from samite.pieces.hang import Hung
from samite.pieces.measure_beliefs import Estimate
from samite.pieces.measure_doubts import Doubt
from samite.pieces.shape import Shape, Values
from samite.pieces.walk import Break, Walked
from samite.services.piece_effects import Effect
from samite.swatch.trial import Swatch

if TYPE_CHECKING:
    from samite.services.fitted import FitTold


@dataclass(frozen=True, slots=True)
class PieceAsk:
    """What a person asks of a shape.

    Parameters
    ----------
    shape : str
        Name of the shape.
    measures : mapping of str to str
        Body measures as written.
    settings : mapping of str to str
        Parameters of the shape as written.
    allowances : mapping of str to str
        Allowance by kind or name of an edge, as written.
    seams : mapping of str to str
        Seam by kind or name of an edge.
    alterations : tuple of str
        What was pinned at fittings, oldest first.
    group : str
        Whose statistics fill in what was not measured.
    age : str
        Age of a child.
    size : str
        A women's size to start from.
    layers : str
        Thickness of what is worn beneath.
    shrink : str
        Shrinkage along and across, ``4 %`` or ``4 %; 2 %``.
    cloth : str
        Name of the cloth for the label.
    one_way : bool
        Whether the cloth runs one way.
    lining : bool
        Whether linings are wanted too.
    facings : tuple of str
        Edges that are faced.
    dated : str
        Date for the label.
    turn : str
        Turn of the cloth: what the outer of two layers needs more.
    width : str
        Width of the cloth, for what a fitting does to the lay.
    hang : str
        How the cloth hangs: a class, ``cloth`` for what `cloth` says, or measured values; empty
        leaves the hem as it is.
    bias : bool
        Whether the pieces are cut on the bias.
    corners : mapping of str to str
        How an allowance ends at its corners, by kind or name of an edge.
    swatches : tuple of Swatch
        Swatches of the cloth that are kept and tell how far it may be pulled.
    """

    shape: str
    measures: Mapping[str, str] = field(default_factory=dict)
    settings: Mapping[str, str] = field(default_factory=dict)
    allowances: Mapping[str, str] = field(default_factory=dict)
    seams: Mapping[str, str] = field(default_factory=dict)
    alterations: tuple[str, ...] = ()
    group: str = "adult"
    age: str = ""
    size: str = ""
    layers: str = ""
    shrink: str = ""
    cloth: str = ""
    one_way: bool = False
    lining: bool = False
    facings: tuple[str, ...] = ()
    dated: str = ""
    turn: str = ""
    width: str = ""
    hang: str = ""
    bias: bool = False
    corners: Mapping[str, str] = field(default_factory=dict)
    swatches: tuple[Swatch, ...] = ()


@dataclass(frozen=True, slots=True)
class PieceAnswer:
    """Finished pieces and what they rest on.

    Parameters
    ----------
    shape : Shape
        The shape.
    body : Body
        The body.
    estimates : tuple of Estimate
        Every measure that was used.
    doubts : tuple of Doubt
        Measures that do not fit the others.
    numbers : Values
        Parameters as they were taken.
    values : mapping of str to float
        What was solved.
    pieces : tuple of FinishedPiece
        The pieces.
    walked : tuple of Walked
        Seams walked.
    breaks : tuple of Break
        Lines over seams.
    fittings : tuple of Fitted
        What was altered, oldest first; each keeps what was before.
    reasons : tuple of Reason
        Why.
    notes : tuple of str
        What was mended or must be minded.
    key : str
        Content key of the question.
    effects : tuple of Effect
        What each fitting did to seams, cloth and lay.
    hung : tuple of Hung
        How far the hems drop when they hang.
    fit : FitTold or None
        What is told of pieces that were computed from body and cloth.
    """

    shape: Shape
    body: Body
    estimates: tuple[Estimate, ...]
    doubts: tuple[Doubt, ...]
    numbers: Values
    values: Mapping[str, float]
    pieces: tuple[FinishedPiece, ...]
    walked: tuple[Walked, ...]
    breaks: tuple[Break, ...]
    fittings: tuple[Fitted, ...]
    reasons: tuple[Reason, ...]
    notes: tuple[str, ...]
    key: str
    effects: tuple[Effect, ...] = ()
    hung: tuple[Hung, ...] = ()
    fit: FitTold | None = None
