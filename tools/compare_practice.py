"""Write docs/practice-compared.md: the card, window included, against every practice row."""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from tests.practice.agreement import COLUMNS, agreement  # noqa: E402
from tests.practice.test_practice_rows import SEWN, share, withheld_card  # noqa: E402

from samite.services.card import card_json, make_card  # noqa: E402

PAGE = ROOT / "docs" / "practice-compared.md"

HEAD = """# The card against 63 cloths of the trade, row by row

Written by `tools/compare_practice.py`. The rows are common practice with no source; the columns are the
advice columns of `tests/practice/practice.csv`, which never ship. "by name" gives samite the name of the
cloth alone; "withheld" gives it fibres, mass, thickness, pile, film and stretch and no name. Dots and
steam follow the press window here. What lies behind the disagreements: [validation](validation.md).
"""


def main() -> None:
    lines = [HEAD]
    named: Counter[str] = Counter()
    withheld: Counter[str] = Counter()
    rows = []
    for row in SEWN:
        card: dict[str, Any] = card_json(make_card(row["cloth"], window=True))
        by_name, blind = agreement(card, row), agreement(withheld_card(row), row)
        named.update(name for name, agrees in by_name.items() if agrees)
        withheld.update(name for name, agrees in blind.items() if agrees)
        press = card["press"]
        rows.append(
            f"| {row['cloth']} | {_lost(by_name)} | {_lost(blind)} | {press['status']} | "
            f"{press['iron']}, {press['steam']} | {row['press_dots']}, {row['steam']} |"
        )
    total = len(SEWN)
    lines += ["| column | by name | withheld |", "|---|---|---|"]
    lines += [
        f"| {name} | {named[name]} of {total} | {withheld[name]} of {total} |" for name in COLUMNS
    ]
    cells = total * len(COLUMNS)
    lines.append(
        f"| all | {sum(named.values()) / cells:.0%} | {sum(withheld.values()) / cells:.0%} |"
    )
    agreeing = sum(share(agreement(withheld_card(row), row)) >= 0.8 for row in SEWN)
    lines.append(
        f"\nRows that agree in four of five columns with the name withheld: {agreeing} of {total}.\n"
    )
    lines += [
        "| cloth | disagrees by name | disagrees withheld | status | computed | row: dots, steam |"
    ]
    lines += ["|---|---|---|---|---|---|", *rows]
    PAGE.write_text("\n".join(lines) + "\n", encoding="utf-8")


def _lost(answers: dict[str, bool]) -> str:
    return ", ".join(name for name, agrees in answers.items() if not agrees) or "-"


if __name__ == "__main__":
    main()
