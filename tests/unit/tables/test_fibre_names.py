"""Every fibre name of the standards is known, every word names one fibre, looks are not fibres."""

from __future__ import annotations

import csv

import pytest

from samite.kernel.errors import UnknownNameError
from samite.tables.fibre_names import (
    fibre_names,
    find_fibre,
    fold_word,
    known_words,
    longest_phrase,
    match_fibre,
    names_a_look,
)
from samite.tables.fibres import fibres
from samite.tables.loader import data_text

# 16 CFR 303.7, generic names and definitions: from memory
CFR_303_7 = """acrylic, modacrylic, polyester, elasterell-p, triexta, rayon, lyocell, acetate,
triacetate, saran, azlon, nytril, nylon, rubber, lastrile, spandex, vinal, olefin, lastol, vinyon,
metallic, glass, anidex, novoloid, aramid, sulfar, PBI, elastoester, melamine, fluoropolymer, PLA"""

# ISO 2076:2013, generic names with codes: from memory
ISO_2076 = {
    "CA": "acetate",
    "PAN": "acrylic",
    "ALG": "alginate",
    "AR": "aramid",
    "CF": "carbon",
    "CEF": "ceramic",
    "CHT": "chitin",
    "CLF": "chlorofibre",
    "CUP": "cupro",
    "EL": "elastane",
    "ED": "elastodiene",
    "EOL": "elastolefin",
    "EME": "elastomultiester",
    "PTFE": "fluorofibre",
    "GF": "glass",
    "CLY": "lyocell",
    "MF": "melamine",
    "MTF": "metal",
    "MAC": "modacrylic",
    "CMD": "modal",
    "PA": "polyamide",
    "PBI": "polybenzimidazole",
    "PBO": "polybenzoxazole",
    "PES": "polyester",
    "PE": "polyethylene",
    "PI": "polyimide",
    "PLA": "polylactide",
    "PPS": "polyphenylene sulfide",
    "PP": "polypropylene",
    "PROT": "protein",
    "CTA": "triacetate",
    "TV": "trivinyl",
    "PVAL": "vinylal",
    "CV": "viscose",
}

# ISO 6938:2012, natural fibres: from memory
ISO_6938 = """
silk, tussah, eri silk, muga silk, anaphe, byssus, wool, alpaca, angora, beaver, camel,
cashmere, cow hair, goat hair, fox, guanaco, hare, horsehair, llama, mohair, muskrat, nutria,
otter, rabbit, reindeer, seal, vicuna, yak, cotton, akund, kapok, flax, hemp, jute, ramie,
kenaf, abutilon, roselle, sunn, urena, nettle, broom, abaca, alfa, cantala, fique, henequen,
maguey, phormium, sisal, pineapple, coir, asbestos"""

# Regulation (EU) 1007/2011, Annex I, numbers 1 to 50 with later additions: from memory
EU_ANNEX_I = """
wool, alpaca, llama, camel, cashmere, mohair, angora, vicuna, yak, guanaco, cashgora, beaver,
otter, animal hair, horsehair, silk, cotton, kapok, flax, linen, true hemp, jute, abaca, alfa,
coir, broom, ramie, sisal, sunn, henequen, maguey, acetate, alginate, cupro, modal, protein,
triacetate, viscose, acrylic, chlorofibre, fluorofibre, modacrylic, polyamide, nylon, aramid,
polyimide, lyocell, polylactide, polyester, polyethylene, polypropylene, polycarbamide,
polyurethane, vinylal, trivinyl, elastodiene, elastane, glass fibre, elastomultiester,
elastolefin, melamine, metal, metallic, metallised, asbestos, paper, polypropylene/polyamide
bicomponent, polyacrylate"""

# short codes on European labels, natural fibres: from memory
LABEL_CODES = {
    "CO": "cotton",
    "LI": "linen",
    "HA": "hemp",
    "RA": "ramie",
    "JU": "jute",
    "WO": "wool",
    "WS": "cashmere",
    "WM": "mohair",
    "WP": "alpaca",
    "WA": "angora",
    "WK": "camel",
    "SE": "silk",
    "PU": "polyurethane",
    "ME": "metallised-film",
}

# abbreviations on American labels: common practice, no source
US_ABBREVIATIONS = {
    "POLY": "polyester",
    "NYL": "polyamide",
    "COT": "cotton",
    "RAY": "viscose",
    "SPX": "elastane",
    "ACR": "acrylic",
    "VISC": "viscose",
}

# words on labels in other languages: common knowledge, no source
FOREIGN = {
    "cotton": "Baumwolle, coton, cotone, algodón, katoen, bawełna, algodão, bomull",
    "silk": "Seide, soie, seta, seda, zijde, jedwab, siden, silke",
    "wool": "Wolle, Schurwolle, laine, lana, lana vergine, wol, wełna, lã, ull",
    "linen": "Leinen, lin, lino, linnen, len, linho, linne",
    "polyester": "Polyester, poliestere, poliéster, poliester",
    "polyamide": "Polyamid, poliammide, poliamida, poliamid, polyamide",
    "elastane": "Elasthan, élasthanne, elastan, elastano, elastaan",
    "viscose": "Viskose, viscosa, wiskoza, viskos, rayonne",
    "acetate": "Acetat, acétate, acetato, acetaat, octan",
    "acrylic": "Polyacryl, acrylique, acrilico, acrílico, akryl, acryl",
    "metallised-film": "métallisé, fibra metallizzata, metalizado, metallisierte Faser",
}


def names(text: str) -> list[str]:
    return [name.strip() for name in text.replace("\n", " ").split(",")]


@pytest.mark.parametrize("name", names(CFR_303_7))
def test_every_name_of_16_cfr_303_7_is_known(name: str):
    assert "cfr-16-303" in find_fibre(name).standards


@pytest.mark.parametrize(("code", "name"), ISO_2076.items())
def test_every_name_and_code_of_iso_2076_names_one_fibre(code: str, name: str):
    assert find_fibre(code).fibre_key == find_fibre(name).fibre_key
    assert "iso-2076-2013" in find_fibre(name).standards


@pytest.mark.parametrize("name", names(ISO_6938))
def test_every_name_of_iso_6938_is_known(name: str):
    assert "iso-6938-2012" in find_fibre(name).standards


@pytest.mark.parametrize("name", names(EU_ANNEX_I))
def test_every_name_of_annex_i_is_known(name: str):
    assert "eu-1007-2011" in find_fibre(name).standards


@pytest.mark.parametrize(("code", "key"), [*LABEL_CODES.items(), *US_ABBREVIATIONS.items()])
def test_codes_and_abbreviations(code: str, key: str):
    assert find_fibre(code).fibre_key == key


@pytest.mark.parametrize(("key", "words"), FOREIGN.items())
def test_words_of_other_languages(key: str, words: str):
    for word in names(words):
        assert find_fibre(word).fibre_key == key


def test_names_that_differ_between_the_continents_name_one_fibre():
    # 16 CFR 303.7 against ISO 2076: from memory
    pairs = [
        ("spandex", "elastane"),
        ("rayon", "viscose"),
        ("nylon", "polyamide"),
        ("vinyon", "chlorofibre"),
        ("vinal", "vinylal"),
        ("azlon", "protein"),
        ("lastol", "elastolefin"),
        ("rubber", "elastodiene"),
        ("fluoropolymer", "fluorofibre"),
        ("sulfar", "polyphenylene sulfide"),
        ("elasterell-p", "elastomultiester"),
    ]
    for american, european in pairs:
        assert find_fibre(american).fibre_key == find_fibre(european).fibre_key


def test_no_word_maps_to_two_fibres():
    seen: dict[str, str] = {}
    for row in csv.DictReader(data_text("fibre_names.csv").splitlines()):
        folded = fold_word(row["word"])
        assert seen.setdefault(folded, row["fibre"]) == row["fibre"]
    assert set(seen) == known_words()


def test_a_plural_never_turns_into_another_fibre():
    for folded, name in fibre_names().items():
        if folded + "s" not in known_words() and len(folded) > 3:
            assert find_fibre(folded + "s").fibre_key == name.fibre_key


def test_every_fibre_that_labels_name_has_a_word():
    named = {name.fibre_key for name in fibre_names().values()}
    assert set(fibres()) - named == {"sequin-pet", "sequin-pvc"}  # named by their part


@pytest.mark.parametrize(
    "word",
    ["Polyester", "POLYESTER", " polyester ", "polyesters", "poly-ester".replace("-", "")],
)
def test_case_space_and_plural_do_not_matter(word: str):
    assert find_fibre(word).fibre_key == "polyester"


@pytest.mark.parametrize("word", ["nylon 6.6", "Nylon 6-6", "polyamide 6.6", "PA 6.6", "PA66"])
def test_hyphens_points_and_spaces_do_not_matter(word: str):
    assert find_fibre(word).fibre_key == "polyamide-66"


@pytest.mark.parametrize(("word", "key"), [("poliester", "polyester"), ("elasthanne", "elastane")])
def test_accents_are_optional(word: str, key: str):
    assert find_fibre(word).fibre_key == key


@pytest.mark.parametrize(
    ("word", "key"),
    [
        ("organic cotton", "cotton"),
        ("recycled polyester", "polyester-recycled"),
        ("recycled cotton", "cotton"),
        ("polyester fibres", "polyester"),
        ("metallic yarn", "metallised-film"),
        ("angora wool", "angora"),
        ("virgin wool", "wool"),
        ("extra fine merino wool", "wool"),
        ("bamboo viscose", "viscose"),
        ("viscose made from bamboo", "viscose"),
    ],
)
def test_qualifiers_and_tails(word: str, key: str):
    assert find_fibre(word).fibre_key == key


@pytest.mark.parametrize(
    "word", ["PE", "CO", "EL", "glass", "metal", "camel", "PI", "paper", "fox"]
)
def test_ambiguous_words_need_a_percentage(word: str):
    assert find_fibre(word).needs_percent


@pytest.mark.parametrize("word", ["silk", "polyester", "cotton", "elastane", "lurex", "poly"])
def test_plain_names_do_not_need_a_percentage(word: str):
    assert not find_fibre(word).needs_percent


def test_every_code_needs_a_percentage():
    for name in fibre_names().values():
        if name.kind == "code":
            assert name.needs_percent


@pytest.mark.parametrize(
    "phrase", ["silk touch", "faux wool", "linen look", "silk-like", "wool feel"]
)
def test_a_look_is_not_a_fibre(phrase: str):
    assert names_a_look(phrase)
    assert match_fibre(phrase) is None


@pytest.mark.parametrize("phrase", ["silk", "soft touch", "silk chiffon", "leather look", ""])
def test_other_phrases_are_not_looks(phrase: str):
    assert not names_a_look(phrase)


def test_trade_marks_are_synonyms_only():
    mark = find_fibre("Lycra")
    assert (mark.fibre_key, mark.kind) == ("elastane", "trade-mark")
    assert mark.name == "elastane (spandex)"


def test_a_very_long_phrase_is_answered_at_once():
    assert match_fibre("pure " * 200 + "wool " * 200) is None
    assert match_fibre("pure new virgin extra fine raw wool yarn").fibre_key == "wool"


def test_an_unknown_word_is_refused_with_close_names():
    with pytest.raises(UnknownNameError) as caught:
        find_fibre("polyster")
    assert "polyester" in caught.value.hint
    assert match_fibre("polyster") is None


@pytest.mark.parametrize("word", ["", " ", "-", "velvet", "satin", "sequin", "chiffon", "organza"])
def test_cloth_words_are_not_fibres(word: str):
    assert match_fibre(word) is None


def test_the_longest_phrase_is_told():
    assert longest_phrase() == max(len(word.split()) for word in known_words()) >= 3
