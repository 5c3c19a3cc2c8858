"""The main job on the built-in scenario, written to a folder."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from samite.kernel.errors import InputError
from samite.services.card import Card, card_json, make_card
from samite.services.paper import demo_pdf
from samite.services.paper_words import card_sheet
from samite.sheets.page import print_cards
from samite.tables.loader import read_toml

ALL_CARDS = "00-all-cards.pdf"
"""File with the index page and every card."""


@dataclass(frozen=True, slots=True)
class Bolt:
    """One cloth of the scenario.

    Parameters
    ----------
    role : str
        What it becomes.
    label : str
        What the bolt says.
    use : str
        What it is wanted for.
    file : str
        Stem of the files written for it.
    card : Card
        Its bench card.
    """

    role: str
    label: str
    use: str
    file: str
    card: Card


def demo_title() -> tuple[str, str]:
    """Return title and introduction of the scenario.

    Returns
    -------
    tuple of (str, str)
        Title, and a sentence or two.
    """
    scenario = read_toml("demo.toml")
    return str(scenario["title"]), str(scenario["intro"])


def demo_bolts() -> tuple[Bolt, ...]:
    """Make the cards of the scenario.

    Returns
    -------
    tuple of Bolt
        In the order of the scenario.
    """
    return tuple(
        Bolt(
            item["role"],
            item["label"],
            item["for"],
            item["file"],
            make_card(item["label"], item["for"], window=True),
        )
        for item in read_toml("demo.toml")["bolt"]
    )


def write_demo(folder: Path, card_to_text: Callable[[Card], str]) -> list[tuple[Bolt, Path]]:
    """Write the cards of the scenario as text, JSON and PDF, and all of them behind an index.

    Parameters
    ----------
    folder : Path
        Where to; made if it does not exist.
    card_to_text : callable
        Turns a card into text.

    Returns
    -------
    list of tuple of (Bolt, Path)
        Each bolt with the text file written for it.

    Raises
    ------
    InputError
        If the folder cannot be written.
    """
    written, sheets = [], []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for bolt in demo_bolts():
            path = folder / f"{bolt.file}.txt"
            path.write_text(card_to_text(bolt.card) + "\n", encoding="utf-8")
            document = json.dumps(card_json(bolt.card), ensure_ascii=False, indent=1)
            path.with_suffix(".json").write_text(document + "\n", encoding="utf-8")
            sheets.append(card_sheet(bolt.card, role=bolt.role))
            path.with_suffix(".pdf").write_bytes(print_cards(sheets[-1:]))
            written.append((bolt, path))
        (folder / ALL_CARDS).write_bytes(demo_pdf(*demo_title(), sheets))
    except OSError as error:
        raise InputError(
            f"cannot write to {folder}: {error.strerror}", "--out", "name another folder"
        ) from None
    return written
