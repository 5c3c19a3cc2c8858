"""A body as measured: what was given, for which side, and what is known of the person."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from samite.kernel.errors import InputError
from samite.kernel.ranges import require_between

GROUPS = ("adult", "women", "men", "girls", "boys")
"""Whose statistics fill in what was not measured; ``adult`` mixes women and men."""

SIDES = ("left", "right")

HALVES = ("front", "back")
"""Parts of a girth that may be measured apart, from side seam to side seam."""


@dataclass(frozen=True, slots=True)
class Body:
    """Measures of one person.

    Parameters
    ----------
    measures_mm : mapping of str to float
        By name; a name with ``.left`` or ``.right`` holds for that side alone [mm].
    group : str
        One of `GROUPS`.
    age_years : float or None
        Age of a child [-].
    name : str
        Name that its owner gave it; empty if it is not kept.
    layers_mm : float
        Thickness of what is worn beneath the piece [mm].
    front_shares : mapping of str to float
        Share of a girth that lies in front of the side seams, where that was measured [-].

    Raises
    ------
    InputError
        If the group is unknown, or a child has no age.
    OutOfRangeError
        If the layers or the age are impossible.
    """

    measures_mm: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    group: str = "adult"
    age_years: float | None = None
    name: str = ""
    layers_mm: float = 0.0
    front_shares: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))

    def __post_init__(self) -> None:
        if self.group not in GROUPS:
            raise InputError(
                f"{self.group!r} is no group of bodies", "group", f"one of {', '.join(GROUPS)}"
            )
        if self.group in ("girls", "boys") and self.age_years is None:
            raise InputError("how old is the child?", "age", "give an age from 2 to 19")
        if self.age_years is not None:
            require_between(2.0, 120.0, age_years=self.age_years)
        require_between(0.0, 200.0, layers_mm=self.layers_mm)
        for share in self.front_shares.values():
            require_between(0.2, 0.8, front_share=share)

    def one_side(self, side: str) -> Body:
        """Return the body as if both sides were like one.

        Parameters
        ----------
        side : str
            ``left`` or ``right``.

        Returns
        -------
        Body
            Measures of that side stand for both; the other's count only where that side lacks one.
        """
        taken = {k: v for k, v in self.measures_mm.items() if "." not in k}
        for wanted in (*(s for s in SIDES if s != side), side):
            taken |= {
                k.partition(".")[0]: v
                for k, v in self.measures_mm.items()
                if k.endswith(f".{wanted}")
            }
        return replace(self, measures_mm=MappingProxyType(taken))

    def middle(self) -> Body:
        """Return the body with the mean of both sides.

        Returns
        -------
        Body
            Without sides.
        """
        left, right = self.one_side("left").measures_mm, self.one_side("right").measures_mm
        names = dict.fromkeys([*left, *right])
        mean = {
            n: (left.get(n, right.get(n, 0.0)) + right.get(n, left.get(n, 0.0))) / 2 for n in names
        }
        return replace(self, measures_mm=MappingProxyType(mean))

    @property
    def uneven(self) -> tuple[str, ...]:
        """Measures whose two sides differ."""
        bases = {k.partition(".")[0] for k in self.measures_mm if "." in k}
        left, right = self.one_side("left").measures_mm, self.one_side("right").measures_mm
        return tuple(sorted(b for b in bases if left.get(b) != right.get(b)))
