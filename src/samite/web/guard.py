"""What stands before every route: a limit on what is sent, and headers that keep the page at home."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from samite.kernel.errors import OutOfRangeError

if TYPE_CHECKING:
    from starlette.types import ASGIApp, Message, Receive, Scope, Send

LONGEST_REQUEST = 64_000
"""Longest path with its query, and longest body [bytes]."""

LONGEST_JOB = 1_300_000
"""Longest body of a whole job file, written as a form writes it [bytes]."""

LONGEST_SWATCH = 20_000_000
"""Longest body of a swatch with its photo [bytes]."""

FILES_TAKEN = ("/swatch", "/pieces-own")
"""Addresses that take a photo or a drawing."""
JOBS_TAKEN = ("/job-text", "/job-new")
"""Addresses that take a whole job."""

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
"""Nothing is loaded from anywhere else, and nothing runs that is not a file of the page."""

HEADERS = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
)


class Guard:
    """Refuses what is far too long for a label, and puts the headers on every answer.

    Parameters
    ----------
    app : callable
        The application behind it.
    """

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request.

        Parameters
        ----------
        scope : mapping
            What is asked.
        receive : callable
            Gives the body.
        send : callable
            Takes the answer.
        """
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message["headers"], *HEADERS]
            await send(message)

        most = _most_bytes(scope)
        if _sent_bytes(scope) > most or await _too_long(scope, receive):
            await _refuse(send_with_headers, most)
            return
        await self.app(scope, receive, send_with_headers)


def _most_bytes(scope: Scope) -> int:
    """Return how much may be sent: a file only where one is taken, and with its length told."""
    sent = scope["path"] if scope["method"] == "POST" else ""
    most = dict.fromkeys(FILES_TAKEN, LONGEST_SWATCH) | dict.fromkeys(JOBS_TAKEN, LONGEST_JOB)
    whole = b"transfer-encoding" not in dict(scope["headers"])
    short = len(scope["path"]) + len(scope["query_string"]) <= LONGEST_REQUEST
    return most.get(sent, LONGEST_REQUEST) if whole and short else LONGEST_REQUEST


def _sent_bytes(scope: Scope) -> int:
    told = dict(scope["headers"]).get(b"content-length", b"0")
    length = int(told) if told.isdigit() else 0
    return max(length, len(scope["path"]) + len(scope["query_string"]))


async def _too_long(scope: Scope, receive: Receive) -> bool:
    """Read a body that comes in pieces, of which no length was told."""
    if b"transfer-encoding" not in dict(scope["headers"]):
        return False
    read, more = 0, True
    while more and read <= LONGEST_REQUEST:
        message = await receive()
        read += len(message.get("body", b""))
        more = message.get("more_body", False)
    return read > LONGEST_REQUEST


async def _refuse(send: Send, most: int) -> None:
    error = OutOfRangeError(
        f"that is longer than {most} bytes, and no label is",
        "label",
        "paste only what the bolt says",
    )
    if most == LONGEST_SWATCH:
        error = OutOfRangeError(
            f"that is longer than {most / 1e6:.0f} MB", "file", "go back and send a smaller one"
        )
    body = json.dumps(error.as_dict()).encode()
    headers = [
        (b"content-type", b"application/json"),
        (b"content-length", str(len(body)).encode()),
        (b"connection", b"close"),
    ]
    await send({"type": "http.response.start", "status": 413, "headers": headers})
    await send({"type": "http.response.body", "body": body})
