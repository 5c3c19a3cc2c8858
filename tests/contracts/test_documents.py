"""Documents name every command and option, and their links lead somewhere."""

from __future__ import annotations

import re
import subprocess
import sys
from functools import cache
from importlib.util import find_spec
from pathlib import Path

import pytest
from click.testing import CliRunner
from tests.contracts.tree import ROOT

from samite.cli import samite

CLI_PAGE = ROOT / "docs" / "faces" / "cli.md"
PAGES = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md")])
LINK = re.compile(r"!?\[[^\]]*\]\(<?([^)\s>]+)>?[^)]*\)")
START = "import sys; sys.argv[0] = 'samite'; from samite.cli import main; sys.exit(main())"


@cache
def help_text(*words: str) -> str:
    done = CliRunner().invoke(samite, [*words, "--help"], prog_name="samite")
    assert done.exit_code == 0, f"samite {' '.join(words)} --help failed:\n{done.output}"
    return done.output


def test_the_help_is_the_one_that_a_terminal_shows() -> None:
    command = [sys.executable, "-c", START, "--help"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stdout == help_text()


def commands() -> list[str]:
    listed = help_text().partition("Commands:\n")[2]
    return re.findall(r"^ {2}([a-z][\w-]*)", listed, re.MULTILINE)


@pytest.fixture
def cli_page() -> str:
    spec = find_spec("samite.cli")
    if spec is None or spec.origin is None:
        pytest.skip("samite.cli is not there yet")
    assert CLI_PAGE.is_file(), "docs/faces/cli.md is missing: it documents every command"
    return CLI_PAGE.read_text(encoding="utf-8")


def test_every_command_is_documented(cli_page: str) -> None:
    assert commands(), "samite --help lists no command"
    missing = [name for name in commands() if not re.search(rf"samite {name}\b", cli_page)]
    assert not missing, f"docs/faces/cli.md does not show: samite {', samite '.join(missing)}"


def options(*words: str) -> set[tuple[str, str]]:
    """Return the options of a command and of the commands under it, each with its command."""
    text = help_text(*words)
    found = {(" ".join(words), one) for one in re.findall(r"(?<![\w-])--[a-z][\w-]*", text)}
    under = re.findall(r"^ {2}([a-z][\w-]*)", text.partition("Commands:\n")[2], re.MULTILINE)
    return found.union(*(options(*words, name) for name in under))


def test_every_option_is_documented(cli_page: str) -> None:
    asked = sorted(set[tuple[str, str]]().union(*(options(name) for name in commands())))
    missing = [
        f"samite {command} {option}"
        for command, option in asked
        if not re.search(rf"{option}(?![\w-])", cli_page)
    ]
    assert any(" " in command for command, _ in asked), "no command under a command is looked at"
    assert not missing, f"docs/faces/cli.md does not explain: {', '.join(missing)}"


def test_no_command_is_documented_that_is_not_there(cli_page: str) -> None:
    shown = set(re.findall(r"`samite ([a-z][\w-]*)", cli_page))
    assert shown <= set(commands()), f"no such command: {sorted(shown - set(commands()))}"


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_relative_links_resolve(page: Path) -> None:
    text = re.sub(r"```.*?```", "", page.read_text(encoding="utf-8"), flags=re.DOTALL)
    links = [link.split("#")[0] for link in LINK.findall(text) if "://" not in link]
    broken = [link for link in links if link and not (page.parent / link).exists()]
    assert not broken, f"{page.relative_to(ROOT)}: broken links {broken}"


def test_the_readme_gives_the_two_commands_that_exist() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    for command in ("./run", "./test"):
        assert re.search(rf"^ *{re.escape(command)}\b", readme, re.MULTILINE), f"no {command}"
        assert (ROOT / command).stat().st_mode & 0o111, f"{command} cannot be executed"


def test_the_readme_shows_what_its_command_says() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    shown = re.search(
        r"^ *\./run card (\".*?\")\n\n```\n(.*?)```", readme, re.MULTILINE | re.DOTALL
    )
    assert shown, "the README shows no card"
    told = CliRunner().invoke(samite, ["card", shown[1].strip('"')])
    assert shown[2] in told.output
