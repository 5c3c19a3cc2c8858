"""What tests on threads make likely, against lists of signs that the table was not made from."""

from __future__ import annotations

import pytest
from iapws import IAPWS95

from samite.cloth.build import build_cloth
from samite.cloth.label import read_label
from samite.swatch.fibre_chances import (
    MIXTURE,
    answer_chances,
    fibre_chances,
    fibre_prior,
    next_fibre_tests,
)
from samite.tables.fibre_tests import (
    candidate_fibres,
    fibre_test_share,
    fibre_tests,
    misread_chance,
    questions,
    sign_chances,
    water_density_g_cm3,
)
from samite.tables.fibres import fibre

CELLULOSE = {"cotton", "linen", "viscose", "modal", "lyocell", "cupro", "ramie", "hemp"}
HAIR = {"wool", "silk", "mohair", "cashmere"}


def test_water_is_as_dense_as_the_steam_tables_say() -> None:
    """IAPWS-95 at 20 C and one atmosphere, by an open library."""
    rho = IAPWS95(T=293.15, P=0.101325).rho / 1000.0
    assert water_density_g_cm3() == pytest.approx(rho, abs=0.0005)


@pytest.mark.parametrize(
    ("key", "floats"),
    [("polypropylene", True), ("polyethylene", True), ("polyamide", False), ("polyester", False)],
)
def test_what_floats(key: str, floats: bool) -> None:
    """Burning characteristics of synthetic fibres, table of 23 February 2003 of the rope trade:
    polypropylene and polyethylene float on water, nylon and polyester do not."""
    chance = answer_chances("float", key)["floats"]
    assert chance > 0.9 if floats else chance < 0.1


@pytest.mark.parametrize("key", [key for key in candidate_fibres() if "poly" not in key])
def test_every_other_fibre_is_denser_than_water(key: str) -> None:
    """Morton and Hearle, Physical Properties of Textile Fibres, Tables 5.1 and 5.2: of the textile
    fibres only the olefins are lighter than water."""
    assert fibre(key).quantity("density_g_cm3").low > water_density_g_cm3()


# A Manual of Home-Making (M. Van Rensselaer, F. Rose, H. Canon, Macmillan 1919), fabric burning test;
# read in a web copy. The table of the program is not made from it.
@pytest.mark.parametrize(
    ("signs", "group"),
    [
        ({"smell": "paper", "left": "soft-ash", "after": "burns-on"}, CELLULOSE),  # cotton
        ({"smell": "hair", "after": "goes-out", "left": "brittle-bead"}, HAIR),  # wool
        ({"smell": "hair", "after": "burns-on", "left": "brittle-bead"}, HAIR),  # silk
    ],
    ids=["cotton", "wool", "silk"],
)
def test_a_manual_of_1919(signs: dict[str, str], group: set[str]) -> None:
    assert group_chance(signs, group) > 0.5


# "How to determine fabric content by using burn test", table of 2011 on the web (blogspot, gsource).
# It is not what the table of the program is made from, though both go back to the same trade.
ROWS = {
    "wool": ({"smell": "hair", "left": "brittle-bead", "after": "goes-out"}, HAIR),
    "silk": ({"smell": "hair", "left": "soft-ash", "after": "goes-out"}, HAIR),
    "cotton": ({"smell": "paper", "left": "soft-ash", "after": "glows"}, CELLULOSE),
    "rayon": ({"smell": "paper", "left": "soft-ash", "after": "burns-on"}, CELLULOSE),
    "polyester": ({"smell": "sweet", "left": "hard-bead"}, {"polyester"}),
    "acetate": (
        {"smell": "vinegar", "left": "hard-bead", "after": "burns-on"},
        {"acetate", "triacetate"},
    ),
    "nylon": ({"smell": "celery", "left": "hard-bead", "after": "goes-out"}, {"polyamide"}),
    "acrylic": ({"smell": "acrid", "left": "brittle-bead", "after": "burns-on"}, {"acrylic"}),
}


@pytest.mark.parametrize("name", ROWS)
def test_a_table_of_2011(name: str) -> None:
    signs, group = ROWS[name]
    chances = fibre_chances(fibre_prior(), signs).chances
    assert next(key for key in chances if key != MIXTURE) in group, list(chances.items())[:4]
    assert group_chance(signs, group) > 0.5


def group_chance(signs: dict[str, str], group: set[str]) -> float:
    chances = fibre_chances(fibre_prior(), signs).chances
    return sum(chances[key] for key in group)


def test_signs_that_contradict_each_other_point_to_a_blend() -> None:
    """Common practice, no source: blends defeat the burn test and show signs of both fibres."""
    before = fibre_prior()[MIXTURE]
    found = fibre_chances(fibre_prior(), {"smell": "hair", "left": "hard-bead", "near": "stays"})
    assert found.likeliest == MIXTURE
    assert found.chances[MIXTURE] > 1.5 * before


def test_it_is_bayes_rule_in_plain_loops() -> None:
    prior, signs = fibre_prior(), {"near": "shrinks", "smell": "sweet", "float": "sinks"}
    pure = {key: share for key, share in prior.items() if key != MIXTURE}
    total, joint = sum(pure.values()), {}
    for key, share in prior.items():
        product = share
        for question, answer in signs.items():
            if key == MIXTURE:
                product *= (
                    sum(pure[one] * answer_chances(question, one)[answer] for one in pure) / total
                )
            else:
                product *= answer_chances(question, key)[answer]
        joint[key] = product
    found = fibre_chances(prior, signs)
    for key, value in joint.items():
        assert found.chances[key] == pytest.approx(value / sum(joint.values()))
    assert found.surprise == pytest.approx(1.0 - sum(joint.values()))


def test_chances_sum_to_one_and_no_answer_is_impossible() -> None:
    assert sum(candidate_fibres().values()) == pytest.approx(1.0)
    for question, (test, asked) in questions().items():
        for key in candidate_fibres():
            chances = answer_chances(question, key)
            assert set(chances) == set(asked.answers)
            assert sum(chances.values()) == pytest.approx(1.0)
            assert min(chances.values()) >= misread_chance(test.key) / len(asked.answers) - 1e-12
    assert sum(sign_chances("smell")["cotton"].values()) == pytest.approx(1.0)


def test_the_label_leads_before_any_test() -> None:
    cloth = build_cloth(read_label("100 % silk satin"))
    found = fibre_chances(fibre_prior(cloth), {})
    assert found.likeliest == "silk"
    assert found.chances["silk"] == pytest.approx(
        fibre_test_share("label_trust") * (1 - fibre_test_share("mixture_share")), abs=0.02
    )
    burnt = fibre_chances(
        fibre_prior(cloth), {"smell": "sweet", "left": "hard-bead", "near": "shrinks"}
    )
    assert burnt.chances["polyester"] > burnt.chances["silk"]


def test_the_burn_test_is_the_most_telling_and_a_harmless_one_wins_a_tie() -> None:
    """Common practice, no source: one begins with the burn test; after it float adds nothing."""
    ranked = next_fibre_tests(fibre_chances(fibre_prior(), {}), [])
    assert ranked[0][0].key == "burn"
    assert all(gain >= 0.0 for _, gain in ranked)
    signs = {"near": "stays", "smell": "paper", "left": "soft-ash", "after": "glows"}
    after = next_fibre_tests(fibre_chances(fibre_prior(), signs), list(signs))
    assert [test.key for test, _ in after] == ["float", "iron"]
    assert all(gain < 0.01 for _, gain in after)


def test_every_test_tells_the_cautions_of_what_it_does() -> None:
    """Common practice, no source."""
    told = {
        key: " ".join(test.cautions + test.needs + test.steps)
        for key, test in fibre_tests().items()
    }
    for word in (
        "tweezers",
        "water",
        "window",
        "laboratory",
        "children",
        "hair",
        "sleeves",
        "smoke",
    ):
        assert word in told["burn"], word
    for word in ("burns", "children", "baking paper", "one dot"):
        assert word in told["iron"], word
