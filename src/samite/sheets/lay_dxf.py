"""A lay as DXF at full size: cloth, pieces, grain, flaws and words on layers of their own."""

from __future__ import annotations

from samite.sheets.dxf_entities import header, line, polyline, text
from samite.sheets.lay_sheet import LayPicture

CLOTH, PIECES, FOLD, GRAIN, FLAW, NOTE = "CLOTH", "CUT", "FOLD", "GRAIN", "FLAW", "TEXT"
LAYERS = (CLOTH, PIECES, FOLD, GRAIN, FLAW, NOTE)


def lay_dxf(picture: LayPicture) -> str:
    """Return a lay as DXF, in millimetres.

    Parameters
    ----------
    picture : LayPicture
        The lay.

    Returns
    -------
    str
        DXF release 12; x runs along the cloth, y across it, as in the lay itself.
    """
    problem = picture.problem
    parts = [header(LAYERS), "0\nSECTION\n2\nENTITIES\n"]
    if problem.outline_mm is not None:
        parts.append(polyline(problem.outline_mm, CLOTH, closed=True))
    else:
        left, end = picture.left_mm, picture.end_mm
        parts.append(
            polyline([(0.0, 0.0), (end, 0.0), (end, left), (0.0, left)], CLOTH, closed=True)
        )
        if problem.folded:
            parts.append(line((0.0, 0.0), (end, 0.0), FOLD))
    parts += [polyline(hole, FLAW, closed=True) for hole in problem.holes]
    for step in picture.steps:
        parts.append(polyline(step.outline_mm, PIECES, closed=True))
        parts.append(line(*step.grain_mm, GRAIN))
        told = f"{step.number} {step.name}"
        if step.piece.mirror != "free" and not problem.folded:
            told += ", print up" if step.printed_up else ", print down"
        size = max(5.0, min(20.0, step.room_mm / 3.0))
        parts.append(text(told, step.middle_mm, NOTE, size))
    told = f"{picture.title}; UNITS: METRIC; {'RIGHT' if picture.face == 'up' else 'WRONG'} SIDE UP"
    parts.append(text(told, (0.0, -30.0), NOTE, 15.0))
    return "".join([*parts, "0\nENDSEC\n0\nEOF\n"])
