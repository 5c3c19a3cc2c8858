"""The lock files hold every dependency with its hash, and no address."""

from __future__ import annotations

import re
import tomllib

import pytest
from tests.contracts.tree import ROOT

RUN, TEST, SETUP = "requirements.lock", "requirements-test.lock", "requirements-setup.lock"
PIN = re.compile(r"^([a-z0-9-]+)==(\S+)(.*)$", re.MULTILINE)


def pins(name: str) -> set[tuple[str, str]]:
    text = (ROOT / name).read_text(encoding="utf-8")
    return {(package, version) for package, version, _ in PIN.findall(text)}


def wanted() -> dict[str, list[str]]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    groups = project["dependency-groups"]
    needed = project["project"]["dependencies"] + groups["build"]
    return {RUN: needed, TEST: needed + groups["test"], SETUP: groups["setup"]}


@pytest.mark.parametrize("name", [RUN, TEST, SETUP])
def test_a_lock_holds_what_the_project_asks_for(name: str) -> None:
    locked = {package for package, _ in pins(name)}
    asked = {re.split(r"[\[<>=~!; ]", line)[0].lower() for line in wanted()[name]}
    assert asked <= locked, f"{name} lacks {sorted(asked - locked)}: see CONTRIBUTING.md, Locks"


@pytest.mark.parametrize("name", [RUN, TEST, SETUP])
def test_a_lock_has_a_hash_for_every_pin_and_no_address(name: str) -> None:
    text = (ROOT / name).read_text(encoding="utf-8")
    assert "://" not in text
    assert "--index-url" not in text
    blocks = re.split(r"^(?=[a-z0-9])", text, flags=re.MULTILINE)
    bare = [block.split()[0] for block in blocks if "==" in block and "--hash=sha256" not in block]
    assert not bare, f"{name}: without a hash: {bare}"


def test_tests_run_on_the_versions_that_people_get() -> None:
    assert pins(RUN) <= pins(TEST), sorted(pins(RUN) - pins(TEST))
