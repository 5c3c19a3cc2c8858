"""Examples in docstrings do what they show."""

from __future__ import annotations

import doctest
import importlib

import pytest
from tests.contracts.tree import SRC, module_names


def with_examples() -> list[str]:
    found = []
    for module in module_names():
        path = SRC.parent.joinpath(*module.split("."))
        path = path / "__init__.py" if path.is_dir() else path.with_suffix(".py")
        if ">>> " in path.read_text(encoding="utf-8"):
            found.append(module)
    return found


@pytest.mark.parametrize("module", with_examples())
def test_examples_do_what_they_show(module: str) -> None:
    result = doctest.testmod(importlib.import_module(module), optionflags=doctest.ELLIPSIS)
    assert result.attempted > 0
    assert result.failed == 0, f"{module}: {result.failed} of {result.attempted} examples fail"
