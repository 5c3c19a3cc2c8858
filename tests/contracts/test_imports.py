"""Imports point down only."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from pathlib import Path

from tests.contracts.tree import ROOT, SRC

WRONG_WAY = "from samite.cloth import reading as _reading\n"


def test_imports_point_down_only() -> None:
    done = _lint(ROOT)
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_check_sees_an_import_that_points_up(tmp_path: Path) -> None:
    for package in ("kernel", "cloth"):
        (tmp_path / "src" / "samite" / package).mkdir(parents=True)
        (tmp_path / "src" / "samite" / package / "__init__.py").write_text("")
    (tmp_path / "src" / "samite" / "__init__.py").write_text("")
    (tmp_path / "src" / "samite" / "cloth" / "reading.py").write_text("")
    (tmp_path / "src" / "samite" / "kernel" / "wrong.py").write_text(WRONG_WAY)
    (tmp_path / "pyproject.toml").write_bytes((ROOT / "pyproject.toml").read_bytes())
    done = _lint(tmp_path)
    assert done.returncode != 0
    assert "samite.kernel.wrong -> samite.cloth.reading" in done.stdout


def test_every_package_has_a_place_in_the_layers() -> None:
    with (ROOT / "pyproject.toml").open("rb") as file:
        contract = tomllib.load(file)["tool"]["importlinter"]["contracts"][0]
    placed = {word.strip(" ()") for layer in contract["layers"] for word in layer.split("|")}
    there = {path.parent.name for path in SRC.glob("*/__init__.py")}
    assert there - placed == set()
    assert contract["exhaustive"]


def _lint(folder: Path) -> subprocess.CompletedProcess[str]:
    """Run the linter on the sources of a folder, whatever is installed."""
    start = (
        f"import sys; sys.path.insert(0, {str(folder / 'src')!r});"
        "from importlinter.cli import lint_imports_command; lint_imports_command()"
    )
    command = [sys.executable, "-c", start, "--no-logo", "--no-cache"]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
