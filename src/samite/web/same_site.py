"""Who may change something: only a page that this very server has given."""

from __future__ import annotations

import ipaddress
import socket
from urllib.parse import urlsplit

from fastapi import Request

from samite.kernel.errors import InputError

HOME_NAMES = (".localhost", ".local", ".lan", ".home", ".home.arpa", ".internal")
"""Ends of names that nobody can own on the open network."""


def require_same_site(request: Request) -> None:
    """Refuse a change that a page from elsewhere has sent through the person's browser.

    Parameters
    ----------
    request : Request
        A request that changes something.

    Raises
    ------
    InputError
        If the browser says that it comes from another site, or the address is not this machine's.
    """
    site = request.headers.get("sec-fetch-site")
    origin = request.headers.get("origin")
    host = request.headers.get("host", "")
    foreign = site not in (None, "same-origin", "none")
    foreign = foreign or (origin is not None and urlsplit(origin).netloc != host)
    if foreign or not _is_own_name(urlsplit(f"//{host}").hostname or ""):
        raise InputError(
            "that was sent by a page from elsewhere",
            "form",
            "open the page of samite itself and send it from there; nothing was kept",
        )


def _is_own_name(name: str) -> bool:
    """Whether a name is an address, this machine's, or one that only a home network knows."""
    if "." not in name or name.endswith(HOME_NAMES) or name == socket.gethostname().lower():
        return True
    try:
        ipaddress.ip_address(name)
    except ValueError:
        return False
    return True
