"""What the cloth is wanted for: lined, curved, strained, on skin, for a child, how often worn."""

from __future__ import annotations

import re
from dataclasses import dataclass, fields

from samite.kernel.errors import InputError, UnknownNameError


@dataclass(frozen=True, slots=True)
class Use:
    """What the seam and the garment have to bear.

    Parameters
    ----------
    lined : bool or None
        Lined, unlined, or not said.
    curved : bool
        The seam is curved.
    gathered : bool
        One side of the seam is gathered.
    strain : bool
        The seam is under strain (a fitted bodice).
    on_skin : bool
        Worn next to the skin.
    child : bool
        Worn by a child under 14.
    wearings : int or None
        How many times it will be worn, if said.
    """

    lined: bool | None = None
    curved: bool = False
    gathered: bool = False
    strain: bool = False
    on_skin: bool = False
    child: bool = False
    wearings: int | None = None

    @property
    def short_lived(self) -> bool:
        """Whether it is made for one or two wearings."""
        return self.wearings is not None and self.wearings <= 2

    @property
    def long_lived(self) -> bool:
        """Whether it is made for twenty wearings or more."""
        return self.wearings is not None and self.wearings >= 20

    def as_dict(self) -> dict[str, object]:
        """Return the JSON form.

        Returns
        -------
        dict of str to object
            One key a field.
        """
        return {item.name: getattr(self, item.name) for item in fields(self)}


WORDS: dict[str, dict[str, object]] = {
    "lined": {"lined": True},
    "unlined": {"lined": False},
    "not lined": {"lined": False},
    "curved": {"curved": True},
    "curve": {"curved": True},
    "gathered": {"gathered": True},
    "gathers": {"gathered": True},
    "strain": {"strain": True},
    "strained": {"strain": True},
    "fitted": {"strain": True},
    "tight": {"strain": True},
    "on skin": {"on_skin": True},
    "next to skin": {"on_skin": True},
    "skin": {"on_skin": True},
    "child": {"child": True},
    "children": {"child": True},
    "kid": {"child": True},
    "one night": {"wearings": 1},
    "once": {"wearings": 1},
    "one wearing": {"wearings": 1},
    "many wearings": {"wearings": 40},
    "often": {"wearings": 40},
    "everyday": {"wearings": 100},
    "straight": {},
}
"""Words that the person may use, in plain trade English."""

NUMBERS = {
    "one": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "ten": 10,
    "twelve": 12,
    "twenty": 20,
    "thirty": 30,
    "forty": 40,
    "fifty": 50,
    "a hundred": 100,
}

_WEARINGS = re.compile(r"(?:for\s+)?(\d{1,4}|[a-z ]+?)\s*(?:nights?|wearings?|times|shows?|evenings?)")


def read_use(text: str) -> Use:
    """Read what the cloth is wanted for.

    Parameters
    ----------
    text : str
        Words parted by commas, for example ``"lined, on skin, one night"``.

    Returns
    -------
    Use
        What they say.

    Raises
    ------
    InputError
        If two words contradict each other.
    UnknownNameError
        If a word is not known; the hint lists the words that are.
    """
    found: dict[str, object] = {}
    for raw in re.split(r"[,;\n]|\band\b", text.lower()):
        word = " ".join(raw.replace("-", " ").split())
        for name, value in _meaning(word).items() if word else ():
            if name in found and found[name] != value:
                raise InputError(
                    f"{word!r} contradicts another word of {text!r}", "for", "say one of the two"
                )
            found[name] = value
    return Use(**found)  # type: ignore[arg-type]


def _meaning(word: str) -> dict[str, object]:
    if word in WORDS:
        return WORDS[word]
    match = _WEARINGS.fullmatch(word)
    if match:
        count = match.group(1).strip()
        if count.isdigit() and int(count) > 0:
            return {"wearings": int(count)}
        if count in NUMBERS:
            return {"wearings": NUMBERS[count]}
    known = ", ".join(WORDS)
    raise UnknownNameError(
        f"{word[:40]!r} is not known as a use", "for", f"known: {known}, N nights, N wearings"
    )
