"""``samite serve``: starts, says where, refuses a busy port, answers over a real socket."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from samite.cli.serve import addresses, listen
from samite.kernel.errors import InputError

START = "from samite.cli import main; main(['serve', '--port', '0'])"
SRC = Path(__file__).parents[2] / "src"


@pytest.fixture(scope="module")
def served() -> Iterator[str]:
    process = subprocess.Popen(
        [sys.executable, "-c", START],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(SRC), "PYTHONUNBUFFERED": "1"},
    )
    assert process.stdout
    first = process.stdout.readline()
    found = re.search(r"http://127\.0\.0\.1:\d+", first)
    assert found, first
    yield found[0]
    process.send_signal(signal.SIGINT)
    process.wait(20)
    process.stdout.close()


def fetch(address: str) -> Any:
    return urllib.request.urlopen(address, timeout=20)  # noqa: S310


def test_it_prints_where_it_is_and_answers_there(served: str) -> None:
    with fetch(served) as reply:
        text = reply.read().decode()
    assert "What the bolt says" in text
    assert "server" not in {name.lower() for name in reply.headers}


@pytest.mark.parametrize("bytes_sent", [70_000, 1_000_000])
def test_a_far_too_long_address_gets_a_plain_answer(served: str, bytes_sent: int) -> None:
    with pytest.raises(urllib.error.HTTPError) as caught:
        fetch(f"{served}/?label={'s' * bytes_sent}")
    with caught.value as error:
        assert error.code == 413
        assert b"paste only what the bolt says" in error.read()


def test_a_busy_port_is_named_with_the_way_out() -> None:
    with socket.socket() as busy:
        busy.bind(("127.0.0.1", 0))
        busy.listen()
        port = busy.getsockname()[1]
        with pytest.raises(InputError, match=f"port {port} is busy") as caught:
            listen("127.0.0.1", port)
    assert "--port 0" in caught.value.hint


def test_a_foreign_address_is_refused() -> None:
    with pytest.raises(InputError, match="no address of this machine"):
        listen("203.0.113.9", 0)  # an address kept for documentation, RFC 5737


def test_open_to_the_network_it_says_so() -> None:
    with listen("0.0.0.0", 0) as listening:  # noqa: S104
        words = " ".join(addresses(listening))
    assert "from the phone" in words
    assert "anyone on this network" in words


def test_small_answers_are_not_held_back() -> None:
    # asyncio sends at once (TCP_NODELAY) only on a socket that is named TCP outright
    with listen("127.0.0.1", 0) as listening:
        client = socket.create_connection(listening.getsockname(), timeout=5)
        accepted, _ = listening.accept()
        with client, accepted:
            assert accepted.proto == socket.IPPROTO_TCP
