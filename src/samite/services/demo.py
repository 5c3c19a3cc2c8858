"""The main job on the built-in scenario, written to a folder."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from samite.kernel.errors import InputError
from samite.services.card import Card, card_json, make_card
from samite.tables.loader import read_toml


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
            make_card(item["label"], item["for"]),
        )
        for item in read_toml("demo.toml")["bolt"]
    )


def write_demo(folder: Path, card_to_text: Callable[[Card], str]) -> list[tuple[Bolt, Path]]:
    """Write the cards of the scenario as text and JSON.

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
    written = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for bolt in demo_bolts():
            path = folder / f"{bolt.file}.txt"
            path.write_text(card_to_text(bolt.card) + "\n", encoding="utf-8")
            document = json.dumps(card_json(bolt.card), ensure_ascii=False, indent=1)
            path.with_suffix(".json").write_text(document + "\n", encoding="utf-8")
            written.append((bolt, path))
    except OSError as error:
        raise InputError(
            f"cannot write to {folder}: {error.strerror}", "--out", "name another folder"
        ) from None
    return written
