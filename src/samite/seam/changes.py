"""What would change the answer to a joint: the same question under other uses and machines."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from samite.garment.use import Use
from samite.garment.workroom import Workroom, machine
from samite.seam.answer import JointAnswer, answer_words

Ask = Callable[[Use, Workroom], JointAnswer]
"""Asks the same joint again under another use and workroom."""


@dataclass(frozen=True, slots=True)
class Variant:
    """A question that asks what would change the answer.

    Parameters
    ----------
    words : str
        What would be different.
    use : Use
        Use in that case.
    workroom : Workroom
        Workroom in that case.
    """

    words: str
    use: Use
    workroom: Workroom


def _variants(use: Use, workroom: Workroom) -> tuple[Variant, ...]:
    strain = "if nothing strained it" if use.strain else "if the seam were strained"
    found = [Variant(strain, replace(use, strain=not use.strain), workroom)]
    if not use.curved:
        found.append(Variant("if it were curved", replace(use, curved=True), workroom))
    lined = "if it were not lined" if use.lined else "if it were lined"
    found.append(Variant(lined, replace(use, lined=not use.lined), workroom))
    if not use.short_lived:
        found.append(Variant("if it were worn once", replace(use, wearings=1), workroom))
    if not use.long_lived:
        found.append(Variant("if it were worn forty times", replace(use, wearings=40), workroom))
    if workroom.overlocks:
        fewer = tuple(one for one in workroom.machines if "504" not in one.stitches)
        found.append(Variant("without an overlocker", use, replace(workroom, machines=fewer)))
    else:
        more = replace(workroom, machines=(*workroom.machines, machine("overlocker")))
        found.append(Variant("with an overlocker", use, more))
    return tuple(found)


def find_changes(
    answer: JointAnswer, use: Use, workroom: Workroom, ask: Ask
) -> tuple[tuple[str, str], ...]:
    """Return what would change an answer, and to what.

    Parameters
    ----------
    answer : JointAnswer
        The answer.
    use : Use
        What the seam has to bear now.
    workroom : Workroom
        What is on hand now.
    ask : callable
        Asks the same joint again under another use and workroom.

    Returns
    -------
    tuple of (str, str)
        The difference in words, and the best way then.
    """
    now = answer_words(answer)
    found = []
    for variant in _variants(use, workroom):
        other = ask(variant.use, variant.workroom)
        then = answer_words(other) if other.ways else "it could not be done"
        if then != now:
            found.append((variant.words, then))
    return tuple(found)
