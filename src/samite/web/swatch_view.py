"""The journal as the page shows it: the form with its fields, and the list."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, ClassVar

from samite.kernel.errors import SamiteError
from samite.press.dials import DIAL_WORDS, Dial
from samite.press.techniques import CLOTHS, SIDES
from samite.services.swatch_form import TRIED, Filled
from samite.services.swatch_words import STEAMS, THROUGH, seen_words, tried_words
from samite.swatch.seen import Sign
from samite.swatch.trial import HOLDS, PIECES, SUPPORTS, TRIED_STEAMS

Options = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a trial.

    Parameters
    ----------
    name : str
        Its name.
    words : str
        What stands before it.
    options : tuple of (str, str)
        Value and words of each choice; empty for one that is written.
    unit : str
        Unit of a number; empty for a text.
    """

    name: str
    words: str
    options: Options = ()
    unit: str = ""


def _plain(values: tuple[str, ...]) -> Options:
    return tuple((value, value.replace("-", " ")) for value in values)


PRESS = (
    Field("seconds", "Seconds on one place", unit="s"),
    Field("dial", "Dial", tuple((dial.value, DIAL_WORDS[dial]) for dial in Dial)),
    Field("sole", "Sole, if you read it", unit="°C or °F"),
    Field("steam", "Steam", tuple((word, STEAMS[word]) for word in TRIED_STEAMS)),
    Field("press_cloth", "Press cloth", tuple((c, THROUGH[c] or "none") for c in CLOTHS)),
    Field("side", "Iron on the", tuple((side, f"{side} side") for side in SIDES)),
    Field("piece", "Of what", tuple((p, {"seam": "a seam"}.get(p, "one layer")) for p in PIECES)),
    Field("support", "Lying on", _plain(SUPPORTS)),
    Field("hold_tool", "Then held under", _plain(HOLDS)),
    Field("hold_seconds", "Held for", unit="s"),
)
"""Fields of a pressing."""

SEW = (
    Field("layers", "Layers"),
    Field("needle_point", "Needle point"),
    Field("needle_size", "Needle size", unit="Nm"),
    Field("thread_fibre", "Thread"),
    Field("thread_tex", "Thread size", unit="tex"),
    Field("stitch_type", "Stitch, number of ISO 4915"),
    Field("stitch_length", "Stitch length", unit="mm"),
    Field("stitch_width", "Stitch width", unit="mm"),
    Field("tension", "Tension on the dial"),
    Field("stretched", "Stretched in the test to", unit="%"),
    Field("hung", "Hung from 25 mm of it", unit="kg"),
)
"""Fields of a seam."""

DEFAULTS = {"piece": "seam", "support": "board", "hold_tool": "none"}
"""What stands in a field that no recipe fills."""

TRIED_WORDS = {"press": "pressed", "sewing": "sewn", "both": "both"}
SIGN_GROUPS = (
    ("After the iron", tuple(s for s in Sign if s.by_pressing and s is not Sign.CRACKED)),
    ("Along the seam", tuple(s for s in Sign if s.by_sewing and s is not Sign.NOTHING)),
)
"""Signs by where they are looked for."""


@dataclass(frozen=True, slots=True)
class FormView:
    """The form as it stands.

    Parameters
    ----------
    filled : Filled
        What stands in it.
    problems : mapping of str to dict of str to str
        What is wrong, by field, in the one shape.
    today : date
        Latest day of a test.
    irons : tuple of str
        Names of the irons that are kept.
    boards : tuple of str
        Names of the boards that are kept.
    units : str
        ``metric`` or ``imperial``; kept for the way back.
    use : str
        Words of the use; likewise.
    """

    filled: Filled
    problems: Mapping[str, dict[str, str]]
    today: date
    irons: tuple[str, ...] = ()
    boards: tuple[str, ...] = ()
    units: str = "metric"
    use: str = ""
    press: ClassVar[tuple[Field, ...]] = PRESS
    sew: ClassVar[tuple[Field, ...]] = SEW

    def text(self, name: str) -> str:
        """Return what stands in a field.

        Parameters
        ----------
        name : str
            The field.

        Returns
        -------
        str
            Its text.
        """
        return self.filled.fields.get(name, "")

    @property
    def tried(self) -> tuple[tuple[str, str, bool], ...]:
        """What can have been tried, in words, and which is chosen."""
        chosen = self.text("tried") or ("press" if self.text("dial") else "sewing")
        return tuple((word, TRIED_WORDS[word], word == chosen) for word in TRIED)

    def signs(self, name: str) -> tuple[tuple[str, tuple[tuple[str, str, bool], ...]], ...]:
        """Return the signs by group, with those that are chosen.

        Parameters
        ----------
        name : str
            ``seen`` or ``doubtful``.

        Returns
        -------
        tuple
            Words of the group, then value, words and choice of each sign.
        """
        chosen = self.filled.seen if name == "seen" else self.filled.doubtful
        return tuple(
            (
                words,
                tuple(
                    (sign.value, sign.words, sign.value in chosen)
                    for sign in signs
                    if name == "seen" or sign is not Sign.NOTHING
                ),
            )
            for words, signs in SIGN_GROUPS
        )

    def choices(self, item: Field) -> Options:
        """Return the choices of a field; what was typed stays one, so that it is kept.

        Parameters
        ----------
        item : Field
            The field.

        Returns
        -------
        tuple of (str, str)
            Value and words.
        """
        own = self.text(item.name)
        strange = own and own not in {value for value, _ in item.options}
        return (*item.options, *(((own, own),) if strange else ()))

    @property
    def press_summary(self) -> str:
        """The pressing in a line."""
        told = [
            dict(PRESS[1].options).get(self.text("dial"), ""),
            STEAMS.get(self.text("steam"), ""),
            THROUGH.get(self.text("press_cloth"), ""),
            f"{self.text('side')} side" if self.text("side") else "",
            f"{self.text('seconds')} s" if self.text("seconds") else "",
        ]
        return ", ".join(filter(None, told)) or "not filled in"

    @property
    def sew_summary(self) -> str:
        """The seam in a line."""
        needle = f"needle {self.text('needle_point')} {self.text('needle_size')}"
        thread = f"thread tex {self.text('thread_tex')}"
        stitch = f"stitch {self.text('stitch_type')} at {self.text('stitch_length')} mm"
        return ", ".join((needle, thread, stitch)) if self.text("needle_size") else "not filled in"

    def any_wrong(self, fields: tuple[Field, ...]) -> bool:
        """Return whether anything is wrong in a group of fields.

        Parameters
        ----------
        fields : tuple of Field
            The group.

        Returns
        -------
        bool
            True if it has to be open.
        """
        return any(item.name in self.problems for item in fields)


def shown_problems(problems: Mapping[str, SamiteError]) -> dict[str, dict[str, str]]:
    """Return what is wrong in the one shape.

    Parameters
    ----------
    problems : mapping of str to SamiteError
        By field.

    Returns
    -------
    dict of str to dict of str to str
        By field.
    """
    return {name: error.as_dict() for name, error in problems.items()}


def swatch_lines(view: Mapping[str, Any]) -> dict[str, Any]:
    """Return a swatch as the list shows it.

    Parameters
    ----------
    view : mapping of str to object
        In the form ``samite.swatch.v1``.

    Returns
    -------
    dict of str to object
        The view with ``tried_words`` and ``seen_words``.
    """
    return {**view, "tried_words": tried_words(view), "seen_words": seen_words(view)}
