"""The page's answer without the window: under 100 ms, and its ratio to a bare request.

Run ``python bench/page.py``. Starts the server on a free port and asks it over a real socket;
every label is new, so that no answer is one that was kept.
"""

from __future__ import annotations

import http.client
import threading
import time
from collections.abc import Callable
from statistics import median, quantiles
from urllib.parse import urlencode

import uvicorn

from samite.cli.serve import listen
from samite.web.app import make_app

ALLOWED_S = 0.1
COUNT = 60
LABEL = "93% polyester 7% elastane velvet knit, glued glitter, 150 cm, {mass} g/m2"


def spans(port: int, path: Callable[[int], str]) -> list[float]:
    """Return the times of requests, after some to warm up [s]."""
    found = []
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    for number in range(COUNT + 5):
        began = time.perf_counter()
        connection.request("GET", path(number))
        reply = connection.getresponse()
        reply.read()
        found.append(time.perf_counter() - began)
        if reply.status != http.client.OK:
            raise SystemExit(f"{path(number)}: {reply.status}")
    connection.close()
    return found[5:]


def card(where: str, start: int) -> Callable[[int], str]:
    return lambda number: f"{where}?{urlencode({'label': LABEL.format(mass=start + number)})}"


def main() -> None:
    listening = listen("127.0.0.1", 0)
    port = listening.getsockname()[1]
    server = uvicorn.Server(uvicorn.Config(make_app(), http="h11", log_level="critical"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    bare = median(spans(port, lambda _: "/static/mark.svg"))
    print(f"bare request      {1000 * bare:6.1f} ms")
    for name, path in (("card alone", card("/part/card", 200)), ("whole page", card("/", 300))):
        found = spans(port, path)
        late = quantiles(found, n=20)[-1]
        verdict = "holds" if late < ALLOWED_S else "DOES NOT HOLD"
        print(
            f"{name:<17} {1000 * median(found):6.1f} ms, {median(found) / bare:4.1f} times bare; "
            f"19 of 20 under {1000 * late:.1f} ms: under 100 ms {verdict}"
        )
    server.should_exit = True
    thread.join(10)
    listening.close()


if __name__ == "__main__":
    main()
