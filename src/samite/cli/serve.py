"""``samite serve``: the page for phone, tablet and desk, on this machine."""

from __future__ import annotations

import socket
import threading
from pathlib import Path

import click

from samite.cli.store_option import STORE
from samite.kernel.errors import InputError

LONGEST_REQUEST_LINE = 4_000_000
"""Read this far [bytes], so that a label that is far too long gets a plain answer."""


@click.command("serve")
@click.option(
    "--host", default="127.0.0.1", show_default=True, help="0.0.0.0 opens it to the home network."
)
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=8765,
    show_default=True,
    help="0 takes a free one.",
)
@STORE
def command(host: str, port: int, store: Path) -> None:
    """Serve the page until Ctrl-C.

    Nothing is loaded from elsewhere, nothing is sent anywhere, and no cookie is set.
    """
    import uvicorn

    from samite.web.app import make_app

    listening = listen(host, port)
    config = uvicorn.Config(
        make_app(store),
        http="h11",
        h11_max_incomplete_event_size=LONGEST_REQUEST_LINE,
        log_level="warning",
        access_log=False,
        server_header=False,
    )
    click.echo("\n".join(addresses(listening)))
    threading.Thread(target=warm, daemon=True).start()
    with listening:
        uvicorn.Server(config).run(sockets=[listening])


def warm() -> None:
    """Compute one window, so that the compiled solver is there before the first is asked for."""
    from samite.web import answers

    bolt = answers.bolts()[2][0]
    answers.timed(bolt.label, bolt.use)


def listen(host: str, port: int) -> socket.socket:
    """Open the port.

    Parameters
    ----------
    host : str
        Name or address of this machine.
    port : int
        Port, 0 for a free one [1].

    Returns
    -------
    socket.socket
        Bound and listening.

    Raises
    ------
    InputError
        If the port is busy, or the host is not this machine.
    """
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    # Named TCP outright: else asyncio leaves small packets waiting, 40 ms an answer.
    listening = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
        listening.listen(64)
    except (OSError, UnicodeError) as error:
        listening.close()
        raise _refusal(host, port, error) from None
    return listening


def _refusal(host: str, port: int, error: OSError | UnicodeError) -> InputError:
    import errno

    number = getattr(error, "errno", None)
    if number == errno.EADDRINUSE:
        return InputError(
            f"port {port} is busy",
            "--port",
            f"samite may be serving already: open http://{host}:{port}; else say --port 0 for a free one",
        )
    if number == errno.EACCES:
        return InputError(f"port {port} is not open to you", "--port", "take one above 1023")
    return InputError(
        f"{host!r} is no address of this machine",
        "--host",
        "say 127.0.0.1, or 0.0.0.0 for the network",
    )


def addresses(listening: socket.socket) -> list[str]:
    """Return what to say when the page is up.

    Parameters
    ----------
    listening : socket.socket
        The open port.

    Returns
    -------
    list of str
        The address, and how other devices reach it.
    """
    host, port = listening.getsockname()[:2]
    everywhere = host in ("0.0.0.0", "::")  # noqa: S104
    shown = "127.0.0.1" if everywhere else f"[{host}]" if ":" in host else host
    lines = [f"samite: http://{shown}:{port}  (Ctrl-C stops it)"]
    if everywhere:
        lines.append(
            f"samite: from the phone: http://{socket.gethostname()}:{port}, or this machine's address"
        )
        lines.append(
            "samite: anyone on this network can open it, read the swatches, and keep or bin one; "
            "samite swatch undo undoes it"
        )
    return lines
