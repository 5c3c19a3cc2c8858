"""Compile the searches of the lay once, at set-up: ``python -m samite.lay.warm_up``."""

from __future__ import annotations

from samite.lay.problem import Fixed, LayPiece, Problem


def warm_up() -> None:
    """Lay three small pieces for a moment, so that everything compiled is run once."""
    from samite.lay._improve import Stream
    from samite.lay._model import model_of

    hook = ((0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (20.0, 10.0), (0.0, 30.0))
    leaf = ((0.0, 0.0), (25.0, 0.0), (25.0, 20.0), (0.0, 25.0))
    pieces = (
        LayPiece("hook", hook, 3, (0.0, 180.0)),
        LayPiece("leaf", leaf, 5, (0.0, 180.0)),
    )
    stream = Stream(model_of(Problem(60.0, pieces, gap_mm=1.0)), 1)
    for step, _ in enumerate(stream.run()):
        if step > 20:
            break
    kept = LayPiece("leaf", leaf, 2, (0.0,), fixed=(Fixed(0.0, 0.0), Fixed(200.0, 0.0)))
    model_of(Problem(60.0, (kept,)))  # asks whether what is kept lies in one another


if __name__ == "__main__":
    warm_up()
