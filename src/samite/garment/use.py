"""What the cloth is wanted for: lined, curved, strained, on skin, for a child, how often worn."""

from __future__ import annotations

import re
from dataclasses import dataclass, fields

from samite.kernel.errors import InputError, OutOfRangeError, UnknownNameError


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
    age_years : int or None
        Age of the wearer, if said [years].
    mask : bool
        Worn over the face.
    head : bool
        Worn on the head: a hood, a hat, a headdress, a veil.
    train : bool
        Trails or hangs long: a train, a floor-length hem, hanging sleeves, a cloak.
    performance : bool
        Worn on a stage, with people in charge.
    sleepwear : bool
        Worn to bed or lounging.
    cords : bool
        Has cords, drawstrings or ties.
    flames : bool
        Worn near candles, lanterns or fires.
    corner : bool
        The seam turns a corner.
    eased : bool
        One side of the seam is longer and eased into the other, as at a sleeve cap.
    """

    lined: bool | None = None
    curved: bool = False
    gathered: bool = False
    strain: bool = False
    on_skin: bool = False
    child: bool = False
    wearings: int | None = None
    age_years: int | None = None
    mask: bool = False
    head: bool = False
    train: bool = False
    performance: bool = False
    sleepwear: bool = False
    cords: bool = False
    flames: bool = False
    corner: bool = False
    eased: bool = False

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


def _all_mean(field: str, *words: str) -> dict[str, dict[str, object]]:
    return {word: {field: True} for word in words}


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
    **_all_mean("corner", "corner", "corners", "cornered"),
    **_all_mean("eased", "eased", "ease", "easing", "sleeve cap"),
    **_all_mean("mask", "mask", "masks", "face mask", "over the face"),
    **_all_mean("head", "hood", "hooded", "hat", "cap", "veil", "headdress", "headpiece", "wig"),
    **_all_mean("head", "on the head"),
    **_all_mean("train", "train", "long hem", "trailing", "floor length", "cloak", "cape"),
    **_all_mean("train", "hanging sleeves"),
    **_all_mean("performance", "stage", "on stage", "performance", "theatre", "theatrical"),
    **_all_mean("sleepwear", "sleepwear", "nightwear", "nightdress", "pyjamas", "pajamas"),
    **_all_mean("cords", "cords", "cord", "drawstring", "drawstrings", "ties"),
    **_all_mean("flames", "candles", "candlelight", "near candles", "lanterns", "near flames"),
    **_all_mean("flames", "flames", "fire"),
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

_WEARINGS = re.compile(
    r"(?:for\s+)?(\d{1,4}|[a-z ]+?)\s*(?:nights?|wearings?|times|shows?|evenings?)"
)
_AGE = re.compile(
    r"(?:(?:for\s+)?(?:a\s+)?(?:child|kid|girl|boy)(?:\s+of|\s+aged)?\s+|aged?\s+)?"
    r"(\d{1,3})(\s*(?:years?(?:\s+old)?|yrs?))?"
)
CHILD_UNDER_YEARS = 14
OLDEST_YEARS = 120


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
    OutOfRangeError
        If an age is impossible.
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
    age = _AGE.fullmatch(word)
    if age and not word.isdigit():
        return _aged(int(age.group(1)))
    known = ", ".join(WORDS)
    raise UnknownNameError(
        f"{word[:40]!r} is not known as a use",
        "for",
        f"known: {known}, N nights, N wearings, child of N",
    )


def _aged(years: int) -> dict[str, object]:
    if years > OLDEST_YEARS:
        raise OutOfRangeError(f"an age of {years} years is impossible", "for", "give the age")
    return {"age_years": years, "child": years < CHILD_UNDER_YEARS}
