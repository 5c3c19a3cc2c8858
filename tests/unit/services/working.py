"""Work for the tests of the runner."""

from __future__ import annotations

import time
from collections.abc import Callable

from samite.kernel.errors import InputError


def count(upto: int, report: Callable[[object], None], cancelled: Callable[[], bool]) -> int:
    for number in range(upto):
        report(number)
    return upto


def last_until_stopped(
    _: object, report: Callable[[object], None], cancelled: Callable[[], bool]
) -> str:
    report("begun")
    while not cancelled():
        time.sleep(0.01)
    return "best so far"


def never_listen(
    _: object, report: Callable[[object], None], cancelled: Callable[[], bool]
) -> None:
    report("best so far")
    time.sleep(60.0)


def refuse(_: object, report: Callable[[object], None], cancelled: Callable[[], bool]) -> None:
    raise InputError("no cloth", "cloth", "give one")


def fall_over(_: object, report: Callable[[object], None], cancelled: Callable[[], bool]) -> None:
    import os

    os._exit(7)
