"""Every error has its own code, a legal exit code and the one shape."""

from __future__ import annotations

import importlib

import pytest
from tests.contracts.tree import module_names

from samite.kernel.errors import SamiteError


def all_errors() -> list[type[SamiteError]]:
    for module in module_names():
        importlib.import_module(module)
    found, waiting = [], [SamiteError]
    while waiting:
        cls = waiting.pop()
        found.append(cls)
        waiting += cls.__subclasses__()
    return found


def test_no_two_errors_share_a_code() -> None:
    owners: dict[str, list[str]] = {}
    for cls in all_errors():
        owners.setdefault(cls.code, []).append(cls.__qualname__)
    assert len(owners) > 1
    shared = {code: names for code, names in owners.items() if len(names) > 1}
    assert not shared, f"shared codes: {shared}"


def test_every_error_leaves_with_an_exit_code_of_the_faces() -> None:
    wrong = [
        f"{cls.__name__}: {cls.exit_code}" for cls in all_errors() if cls.exit_code not in (0, 1, 2)
    ]
    assert not wrong, wrong


def test_codes_are_words_with_hyphens() -> None:
    wrong = [cls.code for cls in all_errors() if cls.code != cls.code.lower().replace("_", "-")]
    assert not wrong, wrong


def test_every_error_says_what_where_and_how_to_mend_it() -> None:
    for cls in all_errors():
        with pytest.raises(cls) as caught:
            raise cls("too thick", "thickness_mm", "measure again")
        assert caught.value.as_dict() == {
            "code": cls.code,
            "message": "too thick",
            "where": "thickness_mm",
            "hint": "measure again",
        }, f"{cls.__name__} must be made from message, where and hint"
