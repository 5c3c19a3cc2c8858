"""Compile the sums of learning once, at set-up: ``python -m samite.swatch.warm_up``.

The compiled code is kept beside the package, so that the first suggestion does not wait for it.
"""

from __future__ import annotations

from datetime import date

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.press.dials import Dial
from samite.swatch.seen import Finding, Sign
from samite.swatch.trial import PressTrial, Swatch
from samite.swatch.update import Asked, learn
from samite.tables.irons import household_iron


def warm_up() -> None:
    """Learn from one swatch of a plain cloth, and from one more."""
    seen = (Finding(Sign.SET_FLAT),)
    trial = PressTrial(Dial.MEDIUM, "light", "dry", "wrong", 5.0)
    asked = Asked(build_cloth(read_label("polyester satin, 150 g/m2")), household_iron())
    learn(asked, [Swatch("cloth", date(2031, 2, 3), seen, press=trial)]).after(trial, seen)


if __name__ == "__main__":
    warm_up()
