"""A real browser, a real server on a free port, and a page that is watched."""

from __future__ import annotations

import asyncio
import os
import shutil
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import pytest
import uvicorn

from samite.cli.serve import listen
from samite.web.app import make_app

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page

SIZES = {"phone": (390, 844), "tablet": (820, 1180), "desk": (1440, 900)}
SLOW_S = 1.5
"""How late the answer to a label with the word "slow" comes [s]."""

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-dev-shm-usage",
]
NAMES = ("chromium", "chromium-browser", "google-chrome")


@dataclass
class Watch:
    """What a page did besides showing itself."""

    messages: list[str] = field(default_factory=list)
    hosts: set[str] = field(default_factory=set)

    def on(self, page: Page) -> None:
        page.on("console", lambda message: self.messages.append(message.text))
        page.on("pageerror", lambda error: self.messages.append(str(error)))
        page.on("request", lambda request: self.hosts.add(request.url.split("/")[2]))


def late(app: Any) -> Any:
    """Wrap the application so that some answers come late."""

    async def wrapped(scope: Any, receive: Any, send: Any) -> None:
        if b"slow" in scope.get("query_string", b""):
            await asyncio.sleep(SLOW_S)
        await app(scope, receive, send)

    return wrapped


@pytest.fixture(scope="session")
def address() -> Iterator[str]:
    """Address of a server that runs in a thread."""
    listening = listen("127.0.0.1", 0)
    config = uvicorn.Config(late(make_app()), http="h11", log_level="critical", lifespan="off")
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    while not server.started and thread.is_alive():
        time.sleep(0.02)
    yield f"http://127.0.0.1:{listening.getsockname()[1]}/"
    server.should_exit = True
    thread.join(20)
    listening.close()


@pytest.fixture(scope="session")
def browser(lacking: Callable[[str, str], None]) -> Iterator[Browser]:
    """Chromium, as the system installs it."""
    program = os.environ.get("SAMITE_CHROMIUM") or next(filter(None, map(shutil.which, NAMES)), "")
    if not program:
        lacking("browser", "Chromium is not installed")
    playwright = pytest.importorskip("playwright.sync_api")
    with playwright.sync_playwright() as started:
        opened = started.chromium.launch(executable_path=program, args=FLAGS)
        yield opened
        opened.close()


@pytest.fixture
def opened(browser: Browser) -> Iterator[Callable[..., Page]]:
    """Open a page of a size; contexts are closed afterwards."""
    contexts: list[BrowserContext] = []

    def new(size: str = "phone", **options: Any) -> Page:
        width, height = SIZES[size]
        touch = {"has_touch": True, "is_mobile": True} if size != "desk" else {}
        context = browser.new_context(
            viewport={"width": width, "height": height}, **touch, **options
        )
        context.set_default_timeout(60_000)  # the machine may be shared
        contexts.append(context)
        return context.new_page()

    yield new
    for context in contexts:
        context.close()


@pytest.fixture
def watch() -> Watch:
    """What the page of this test did."""
    return Watch()
