"""No file tells of the machine or the tools that it was made with."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable

import pytest
from tests.contracts.tree import ROOT, repository_files

# Written with a ~ in each, so that this file passes its own check.
FORBIDDEN = {
    "a path of one machine": (r"(?<!\w)/wo~rk/", "/tm~p/", r"\.\./sha~red", "/ro~ot/", "/ho~me/"),
    "a registry's host": (r"pypi\.~org", "python~hosted", r"npm~js\.", r"deb\.~debian"),
    "the tools around": (r"as an a~i\b", "language ~model", r"\ba~i[- ](generated|assisted)"),
    "a working session": (r"\b(this|last|previous|next|another|earlier) ~session",),
}
# Searched one by one in small letters, which is three times as fast as all at once in any.
PATTERNS = [
    (why, re.compile(one.replace("~", ""))) for why, found in FORBIDDEN.items() for one in found
]


def problems(text: str) -> list[str]:
    small = text.lower()
    hits = [
        (small.count("\n", 0, found.start()) + 1, why, found[0])
        for why, pattern in PATTERNS
        for found in pattern.finditer(small)
    ]
    return [f"line {number}: {why}: {found!r}" for number, why, found in sorted(hits)]


def test_no_file_tells_of_the_machine_or_its_tools(lacking: Callable[[str, str], None]) -> None:
    if not shutil.which("git") or not (ROOT / ".git").exists():
        lacking("git", "the files of the repository cannot be listed")
    files = repository_files()
    assert len(files) > 20
    found = []
    for path in files:
        name = path.relative_to(ROOT).as_posix()
        text = path.read_text(encoding="utf-8", errors="replace")
        found += [f"{name}: {problem}" for problem in [*problems(text), *problems(name)]]
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    "text",
    ["see /wo~rk/main", "https://pypi.~org/simple", "As an A~I I", "in the last ~session"],
)
def test_the_check_sees(text: str) -> None:
    assert problems(text.replace("~", ""))


def test_the_check_leaves_ordinary_words_alone() -> None:
    assert not problems("work/operation.py says: raise the aim; a sewing session at the bench")
