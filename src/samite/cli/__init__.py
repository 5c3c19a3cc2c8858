"""The command line: a thin face over the services. Heavy parts load inside the command."""

from __future__ import annotations

import importlib
import sys

import click

from samite.kernel.errors import SamiteError

COMMANDS = {
    "card": ("samite.cli.card", "One cloth: how to prepare, cut, sew, finish and press it."),
    "press": ("samite.cli.press", "The press window, or the bare layer solver (--stack FILE)."),
    "seam": ("samite.cli.seam", "Two or three cloths: how to join them."),
    "rescue": (
        "samite.cli.rescue",
        "It has gone wrong: what to try on this cloth, and when to stop.",
    ),
    "calc": ("samite.cli.calc", "Any closed-form function of the engines, by name."),
    "piece": ("samite.cli.piece", "A computed shape: pieces from measures, finished, on paper."),
    "body": ("samite.cli.body", "Measures kept under a name, and how to take them."),
    "lay": ("samite.cli.lay", "A cutting lay: how much cloth to buy and how to cut it."),
    "metres": ("samite.cli.metres", "Metres for a shape, at the shop counter, with the range."),
    "work": ("samite.cli.work", "The order of work: by the day, with the fewest change-overs."),
    "make": ("samite.cli.make", "A whole costume job: everything computed, written to a folder."),
    "buy": ("samite.cli.buy", "The buying list of a costume job alone."),
    "swatch": ("samite.cli.swatch", "Keep and read tests on real cloth."),
    "stock": ("samite.cli.stock", "Keep irons, boards, needles and threads."),
    "store": ("samite.cli.store", "Backup, restore, archive and bin of what is kept."),
    "serve": ("samite.cli.serve", "The page for phone, tablet and desk, on this machine."),
    "demo": ("samite.cli.demo", "The main job on the built-in scenario, written to a folder."),
}
"""Module and one line of help of every command."""


class LazyGroup(click.Group):
    """A group whose commands are imported only when they run."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names of the commands, in working order.

        Parameters
        ----------
        ctx : click.Context
            Context of the call.

        Returns
        -------
        list of str
            Names.
        """
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import and return one command.

        Parameters
        ----------
        ctx : click.Context
            Context of the call.
        cmd_name : str
            Name of the command.

        Returns
        -------
        click.Command or None
            None if there is no such command.
        """
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(COMMANDS[cmd_name][0])
        command: click.Command = module.command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the list of commands without importing them.

        Parameters
        ----------
        ctx : click.Context
            Context of the call.
        formatter : click.HelpFormatter
            Where to write.
        """
        with formatter.section("Commands"):
            formatter.write_dl([(name, text) for name, (_, text) in COMMANDS.items()])


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="samite", message="samite %(version)s")
def samite() -> None:
    """From a cloth's label to its bench card: how to prepare, cut, sew, finish and press it."""


def main(arguments: list[str] | None = None) -> None:
    """Run the command line and leave with its exit code.

    Parameters
    ----------
    arguments : list of str or None
        Words after the program's name; None takes those of the process.
    """
    try:
        code = samite.main(args=arguments, prog_name="samite", standalone_mode=False)
        sys.exit(code or 0)
    except SamiteError as error:
        print_error(error)
        sys.exit(error.exit_code)
    except click.exceptions.Abort:
        sys.exit(130)
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except BrokenPipeError:
        sys.exit(0)


def print_error(error: SamiteError) -> None:
    """Print an error in the one shape, on standard error.

    Parameters
    ----------
    error : SamiteError
        What went wrong.
    """
    click.echo(f"samite: {error.message}", err=True)
    if error.where:
        click.echo(f"  where: {error.where}", err=True)
    if error.hint:
        click.echo(f"  mend:  {error.hint}", err=True)
    click.echo(f"  code:  {error.code}", err=True)
