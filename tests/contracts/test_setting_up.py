"""The set-up needs Python alone, does its work once and says what is missing."""

from __future__ import annotations

import ast
import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest
from tests.contracts.tree import ROOT

UP = ROOT / "tools" / "up.py"
LOCK = "requirements.lock"


@pytest.fixture
def up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """Load tools/up.py for a checkout in a temporary folder."""
    spec = importlib.util.spec_from_file_location("up", UP)
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    for name in (LOCK, "requirements-setup.lock", "pyproject.toml"):
        (tmp_path / name).write_bytes((ROOT / name).read_bytes())
    monkeypatch.setattr(module, "ROOT", tmp_path)
    monkeypatch.setattr(module, "SETUP_LOCK", tmp_path / "requirements-setup.lock")
    return module


def calls(up: ModuleType, monkeypatch: pytest.MonkeyPatch, failing: str = " ") -> list[str]:
    """Record the commands instead of running them; those that contain a word fail."""
    made: list[str] = []

    def call(command: list[object], **_options: bool) -> int:
        made.append(" ".join(str(word) for word in command))
        return int(failing in made[-1])

    monkeypatch.setattr(up, "_call", call)
    return made


def test_the_set_up_imports_nothing_but_the_standard_library() -> None:
    for node in ast.walk(ast.parse(UP.read_text(encoding="utf-8"))):
        names = [name.name for name in node.names] if isinstance(node, ast.Import) else []
        names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        assert {name.split(".")[0] for name in names} <= sys.stdlib_module_names


def test_the_second_start_does_nothing(up: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    environment = up.Environment(".venv", LOCK)
    made = calls(up, monkeypatch, failing="no command fails")
    up.set_up(environment)
    assert any("--require-hashes" in command for command in made)
    assert any("--editable" in command for command in made)
    made.clear()
    up.set_up(environment)
    assert made == []


@pytest.mark.parametrize(
    ("name", "ready"), [(LOCK, [False, True]), ("pyproject.toml", [True, False])]
)
def test_a_changed_file_asks_only_for_what_depends_on_it(
    up: ModuleType, monkeypatch: pytest.MonkeyPatch, name: str, ready: list[bool]
) -> None:
    environment = up.Environment(".venv", LOCK)
    calls(up, monkeypatch, failing="no command fails")
    up.set_up(environment)
    assert environment.ready() == [True, True]
    with (up.ROOT / name).open("a") as file:
        file.write("# another line\n")
    assert environment.ready() == ready


def test_pip_takes_over_where_uv_fails(up: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    environment = up.Environment(".venv", LOCK)
    made = calls(up, monkeypatch, failing="uv pip install")
    monkeypatch.setattr(up.shutil, "which", lambda name: f"/usr/bin/{name}")
    up.set_up(environment)
    installs = [command for command in made if "--require-hashes -r" in command and LOCK in command]
    assert [" -m pip" in command for command in installs] == [False, True]
    assert environment.ready() == [True, True]


def test_a_failed_installation_leaves_no_stamp(
    up: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    environment = up.Environment(".venv", LOCK)
    calls(up, monkeypatch, failing=" install ")
    with pytest.raises(up.SetUpError, match="pip failed"):
        up.set_up(environment)
    assert environment.ready() == [False, False]


def test_without_pip_and_uv_it_says_what_to_install(
    up: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    calls(up, monkeypatch)
    monkeypatch.setattr(up.shutil, "which", lambda _name: None)
    assert up.main(["run"]) == 1
    assert "apt install python3-venv" in capsys.readouterr().err


def test_an_unknown_task_is_refused(up: ModuleType) -> None:
    assert up.main(["fly"]) == 2


def test_every_stage_that_fails_is_named_and_says_why(
    up: ModuleType, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    environment = up.Environment(".venv", LOCK)
    monkeypatch.setattr(environment, "program", lambda _name: sys.executable)
    monkeypatch.setattr(up, "READING", {"reader": (), "silent": ()})
    bad, good = ("python", "-c", "print('why'); raise SystemExit(3)"), ("python", "-c", "")
    assert up._failed(environment, {"reader": bad, "silent": good, "pytest": bad}) == [
        "reader",
        "pytest",
    ]
    told = capfd.readouterr()
    assert "FAILED: reader" in told.err
    assert "why" in told.err
    assert "silent\n" not in told.err.partition("pytest")[2]
