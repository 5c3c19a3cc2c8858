"""What comes before what: an order of names, or the circle that forbids one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from samite.kernel.errors import InfeasibleError


def construction_order(before: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """Return names so that each stands after all that come before it.

    Parameters
    ----------
    before : mapping of str to sequence of str
        For each name, the names that come before it.

    Returns
    -------
    tuple of str
        Among equals the order of the mapping holds.

    Raises
    ------
    InfeasibleError
        If they go round in a circle, which is named.

    Notes
    -----
    Depth first, so it takes time in proportion to the number of pairs. A name that is only named
    by others counts as one that nothing comes before.

    References
    ----------
    ``derivation``: depth-first topological order.
    """
    circle = find_circle(before)
    if circle:
        raise InfeasibleError(
            "the order of construction goes round in a circle: " + " after ".join(circle),
            circle[0],
            "take one of these out of its after list",
        )
    done: dict[str, None] = {}
    for name in before:
        _place(name, before, done)
    return tuple(done)


def _place(name: str, before: Mapping[str, Sequence[str]], done: dict[str, None]) -> None:
    waiting = [(name, False)]
    while waiting:
        one, ready = waiting.pop()
        if one in done:
            continue
        if ready:
            done[one] = None
        else:
            waiting.append((one, True))
            waiting += [(other, False) for other in reversed(before.get(one, ()))]


def find_circle(before: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """Return a circle in what comes before what.

    Parameters
    ----------
    before : mapping of str to sequence of str
        For each name, the names that come before it.

    Returns
    -------
    tuple of str
        Names of one circle, the first again at the end; empty if there is none.

    Notes
    -----
    Which circle is found, where there are several, depends on the order of the mapping.

    References
    ----------
    ``derivation``: depth-first search with a path.
    """
    done: set[str] = set()
    for start in before:
        path: list[str] = []
        steps = [(start, iter(before.get(start, ())))] if start not in done else []
        if steps:
            path.append(start)
        while steps:
            name, others = steps[-1]
            other = next(others, None)
            if other is None:
                steps.pop()
                path.pop()
                done.add(name)
            elif other in path:
                return (*path[path.index(other) :], other)
            elif other not in done:
                path.append(other)
                steps.append((other, iter(before.get(other, ()))))
    return ()
