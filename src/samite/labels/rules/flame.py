"""Where a flame would run, and whether the burning test is asked of the cloth."""

from __future__ import annotations

from samite.cloth.model import Cloth
from samite.cloth.reading import PartKind
from samite.garment.use import Use
from samite.kernel.evidence import Evidence, Grade
from samite.labels.flammability import exempt_mass_gsm, exemption_from_test
from samite.labels.rules.book import Rule, Ruling, rule
from samite.labels.rules.caution import Caution, caution
from samite.labels.rules.materials import (
    group_percent,
    in_words,
    make_up,
    materials,
    names,
    part_names,
    raised_because,
    raised_parts,
)
from samite.tables.fibres import fibre

FLASHING_PERCENT = 20.0
"""From this share of cellulose on, a raised face is taken to flash [%] (guess)."""

MAIN_PERCENT = 50.0
UNLISTED = "other fibres"
KEEP_AWAY = "keep it from candles, lanterns and heaters"


def flame_cautions(cloth: Cloth, use: Use) -> list[Caution]:
    """Return how the cloth burns and whether the US burning test is asked of it.

    Parameters
    ----------
    cloth : Cloth
        The cloth.
    use : Use
        What it is wanted for.

    Returns
    -------
    list of Caution
        The exemption first, always; then what makes this cloth worse than its exemption says.
    """
    found = [
        _exemption(cloth),
        _surface_flash(cloth),
        _light_and_open(cloth),
        _melts_on_skin(cloth, use),
        _foam(cloth),
        _retardant(cloth),
        _worn_near_flames(cloth, use),
    ]
    return [item for item in found if item]


def listed_fibres(cloth: Cloth) -> frozenset[str]:
    """Return what the list of exempt fibres has to cover: all that the cloth is made of.

    Parameters
    ----------
    cloth : Cloth
        The cloth.

    Returns
    -------
    frozenset of str
        Keys in the fibre table; parts of unknown material by their own name, nothing at all if the
        label does not name the fibres. Printing ink is left out.
    """
    if "fibres" in cloth.assumed or not cloth.base.known:
        return frozenset()
    unnamed = {
        part.kind.value
        for part in cloth.parts
        if not part.known and part.kind not in (PartKind.PRINT, PartKind.YARN)
    }
    unlisted = {UNLISTED} if cloth.reading.other_fibres_percent else set()
    return materials(cloth) | unnamed | unlisted


def _exemption(cloth: Cloth) -> Caution:
    if _is_vinyl_film(cloth):
        film = rule("vinyl-film")
        return caution("flame", f"{make_up(cloth)}, a film: {film.text}", film.evidence)
    raised = raised_because(cloth)
    fibres = listed_fibres(cloth)
    at_least, at_most = (
        exemption_from_test(
            surface="raised" if raised else "plain", mass_per_area_gsm=gsm, fibres=fibres
        )
        for gsm in (cloth.mass_per_area_gsm.low, cloth.mass_per_area_gsm.high)
    )
    if at_least.value == "exempt (fibre list)":
        return _say_exempt_by_fibre(cloth, at_least)
    if at_least.value == "exempt (mass)":
        return _say_exempt_by_mass(cloth, at_least)
    strange = _strange(fibres)
    if at_most.value == "exempt (mass)":
        text = (
            f"{make_up(cloth)}, plain surface, {strange}: the US burning test is asked of it only"
            f" below {exempt_mass_gsm():.1f} g/m2, so weigh a piece; until then {KEEP_AWAY}"
        )
        return caution("flame", text, at_most.evidence)
    why = (
        f"raised surface ({raised}), which no mass exempts"
        if raised
        else f"plain surface below {exempt_mass_gsm():.1f} g/m2"
    )
    text = (
        f"{make_up(cloth)}: {why}, and {strange}; so the US burning test is asked of it"
        f" and it may burn fast: {KEEP_AWAY}, burn a strip outdoors over a bucket of water"
    )
    return caution("flame", text, at_least.evidence)


def _say_exempt_by_fibre(cloth: Cloth, ruling: Ruling) -> Caution:
    text = (
        f"{make_up(cloth)}, made entirely of listed fibres ({names(listed_fibres(cloth))}): the US"
        f" burning test is not asked of it; it still burns{_and_melts(cloth)} in a flame"
    )
    return caution("flame", text, ruling.evidence)


def _say_exempt_by_mass(cloth: Cloth, ruling: Ruling) -> Caution:
    text = (
        f"{make_up(cloth)}, plain surface, from {exempt_mass_gsm():.1f} g/m2 on: the US burning"
        f" test is not asked of it; it still burns{_and_melts(cloth)} in a flame"
    )
    return caution("flame", text, ruling.evidence)


def _strange(fibres: frozenset[str]) -> str:
    if not fibres:
        return "its fibres are not named"
    listed = rule("test-exemption-fibres").lists["fibres"]
    return f"the list of exempt fibres lacks its {names(fibres - listed)}"


def _and_melts(cloth: Cloth) -> str:
    return ", melts and drips" if _melting_percent(cloth) >= MAIN_PERCENT else ""


def _melting_percent(cloth: Cloth) -> float:
    return sum(item.percent for item in cloth.base.fibres if fibre(item.fibre).melts)


def _surface_flash(cloth: Cloth) -> Caution | None:
    standing = raised_parts(cloth)
    if any(not part.stated for part in standing):
        standing = (*standing, cloth.base)
    tinder = tuple(
        dict.fromkeys(
            part
            for part in standing
            if group_percent(part, frozenset({"cellulose"})) >= FLASHING_PERCENT
        )
    )
    if not tinder and standing and "fibres" in cloth.assumed:
        text = (
            f"its raised surface ({raised_because(cloth)}) may be cotton or viscose, as the label"
            f" names no fibres, and a flame then flashes over it; {KEEP_AWAY}"
        )
        return caution("flame", text, _from(rule("raised-class-2"), Grade.COMMON_PRACTICE))
    if not tinder:
        return None
    text = (
        f"a flame can flash over its raised surface, {part_names(tinder)}: plant and regenerated"
        f" fibres stand in air like tinder; {KEEP_AWAY}, brush loose fluff off"
    )
    return caution("flame", text, _from(rule("raised-class-2"), Grade.COMMON_PRACTICE))


def _light_and_open(cloth: Cloth) -> Caution | None:
    if not cloth.sheer or cloth.mass_per_area_gsm.value >= exempt_mass_gsm():
        return None
    main = sum(
        i.percent
        for i in cloth.base.fibres
        if fibre(i.fibre).group == "cellulose" or fibre(i.fibre).fibre_class == "silk"
    )
    if main >= MAIN_PERCENT:
        how = "light and open, with air all round each yarn, it flares up within seconds"
    else:
        how = "light and open, its layers catch from each other and drip while they burn"
    text = f"{make_up(cloth)}: {how}; {KEEP_AWAY}, most of all when gathered or layered"
    return caution("flame", text)


def _melts_on_skin(cloth: Cloth, use: Use) -> Caution | None:
    share = _melting_percent(cloth)
    if share < MAIN_PERCENT or not (use.on_skin or use.flames):
        return None
    melting = [fibre(i.fibre).name for i in cloth.base.fibres if fibre(i.fibre).melts]
    text = (
        f"{share:.0f} % of it ({in_words(melting)}) melts in a flame and sticks to the skin: near"
        " flames wear cotton or wool under it"
    )
    return caution("flame", text)


def _foam(cloth: Cloth) -> Caution | None:
    foams = tuple(part for part in cloth.parts if part.kind is PartKind.FOAM)
    if foams:
        text = f"its {part_names(foams)} burns fast, drips and smokes thickly: {KEEP_AWAY}"
        return caution("flame", text)
    return None


def _is_vinyl_film(cloth: Cloth) -> bool:
    return cloth.construction == "film" and "chlorofibre" in materials(cloth)


def _retardant(cloth: Cloth) -> Caution | None:
    if "flame-retardant" not in cloth.reading.surfaces:
        return None
    text = (
        "sold as flame-retardant: ask for the certificate and what test it names; a finish may wash"
        f" out, and {make_up(cloth)} then burns as any other"
    )
    return caution("flame", text)


def _worn_near_flames(cloth: Cloth, use: Use) -> Caution | None:
    ways = {
        "trailing, it reaches flames that the wearer does not see": use.train,
        "round the head, it cannot be thrown off at once": use.head or use.mask,
        "it is to be worn near flames": use.flames,
    }
    applies = [text for text, holds in ways.items() if holds]
    if not applies:
        return None
    text = (
        f"{in_words(applies)}: no real candles or lanterns within arm's length, use electric ones;"
        f" have somebody with a blanket by ({cloth.structure_name})"
    )
    return caution("flame", text)


def _from(ruled: Rule, grade: Grade) -> Evidence:
    return Evidence(ruled.evidence.source, grade, ruled.evidence.locator)
