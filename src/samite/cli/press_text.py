"""The press window for the terminal: the steps first, then every technique that may be used."""

from __future__ import annotations

import textwrap
from typing import Any

WIDTH = 78


def press_text(view: dict[str, Any]) -> str:
    """Return a press window as text.

    Parameters
    ----------
    view : dict of str to object
        In the form ``samite.press.v1``.

    Returns
    -------
    str
        Lines of at most 78 columns.
    """
    best = view["best"]
    lines = [
        "=" * WIDTH,
        f"PRESS  {view['cloth']['structure']}: {best['status'].replace('-', ' ')}",
    ]
    lines += textwrap.wrap(_best_line(best), WIDTH)
    lines += textwrap.wrap(f"the seam lies {view['order_words']}", WIDTH)
    lines += textwrap.wrap(f"counted for: {view['iron']['words']}", WIDTH)
    if view["moved_most"]:
        lines += textwrap.wrap("moved most by: " + ", ".join(view["moved_most"]), WIDTH)
    for told in view.get("learnt", {}).get("words", ()):
        lines += textwrap.wrap(told, WIDTH, subsequent_indent="  ")
    lines += ["=" * WIDTH, *_step_lines(view), *_offer_lines(view)]
    if not view["techniques"]:
        return "\n".join(lines)
    lines += ["-" * WIDTH, "seconds    set  damage  set and  seam line  technique"]
    lines += ["                        unharmed   (C)"]
    usable = [item for item in view["techniques"] if not item["barred"]]
    for item in sorted(usable, key=lambda item: -max(item["chance_good"])):
        lines.append(_row(item))
    barred = len(view["techniques"]) - len(usable)
    lines.append(
        f"{barred} more techniques are barred by a part's limit or the cloth's look (--json)"
    )
    lines.append("damage: chance that 60 placements of the iron hurt any part of the costume")
    return "\n".join(lines)


def _step_lines(view: dict[str, Any]) -> list[str]:
    lines = []
    for number, step in enumerate(view["steps"], start=1):
        lines += _hanging(f"{number}. ", step["text"])
    return lines


def _offer_lines(view: dict[str, Any]) -> list[str]:
    """Say what else does, where no press is safe."""
    if not view["offers"]:
        return []
    lines = ["", _unsafe(view["best"]["status"])]
    for item in view["offers"]:
        odds = ""
        if "chance_set" in item:
            odds = f" [set {item['chance_set']:.0%}, damage {item['chance_damage']:.1%}]"
        lines += _hanging("- ", f"{item['do']}: {item['text']}{odds}")
    return lines


def _unsafe(status: str) -> str:
    if status == "do-not-press":
        return "No press of it is safe. What does instead:"
    return "Not proved safe. What does instead, or besides:"


def _hanging(mark: str, text: str) -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=mark, subsequent_indent=" " * len(mark), break_long_words=True
    )


def _best_line(best: dict[str, Any]) -> str:
    if not best["passes"]:
        return f"no iron. {best['instead']}"
    low, high = best["passes"][-1]["seconds"]
    return (
        f"count {low:g}, stop by {high:g}: chance of a set seam {best['chance_set']:.0%}, of damage "
        f"somewhere on the whole costume {best['chance_damage']:.1%}"
    )


def _row(item: dict[str, Any]) -> str:
    index = max(range(len(item["seconds"])), key=lambda i: item["chance_good"][i])
    span = item["window_s"]
    seconds = f"{span[0]:.0f} to {span[1]:.0f}" if span else f"({item['seconds'][index]:.0f})"
    return (
        f"{seconds:9} {item['chance_set'][index]:5.0%} {item['chance_damage'][index]:7.1%} "
        f"{item['chance_good'][index]:8.0%} {item['core_c']['p50'][index]:8.0f}   "
        f"{item['words'][:38]}"
    )
