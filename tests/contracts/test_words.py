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
PATTERNS = {
    why: re.compile("|".join(found).replace("~", ""), re.IGNORECASE)
    for why, found in FORBIDDEN.items()
}


def problems(text: str) -> list[str]:
    return [
        f"line {number}: {why}: {found[0]!r}"
        for number, line in enumerate(text.splitlines(), 1)
        for why, pattern in PATTERNS.items()
        if (found := pattern.search(line))
    ]


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
