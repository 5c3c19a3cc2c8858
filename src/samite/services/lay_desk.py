"""Lays that are being worked out or cut: started, looked at, cancelled, gone on from."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Collection, MutableMapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import Any

from samite.cloth.reading import Price
from samite.kernel.errors import UnknownNameError
from samite.kernel.keys import content_key
from samite.lay.again import Copy, Trouble, pinned, rest_problem
from samite.lay.problem import Problem
from samite.services.jobs import Jobs, JobView
from samite.services.kept_answers import KeptAnswers
from samite.services.lay import LayAnswer, lay_json, lay_of, problem_json, work_on_lay
from samite.services.lay_buy import Extra, buy_json, length_to_lay_mm
from samite.services.lay_cases import LayAsk, LayCase
from samite.services.lay_kept import keep_lay, kept_lay
from samite.services.lay_options import case_options, no_longer
from samite.services.lay_paper import lay_picture
from samite.sheets.lay_sheet import LayPicture

MOST_KEPT = 200
"""Lays whose question is kept; the oldest goes first."""

VERSION = "lay/3"


@dataclass(frozen=True, slots=True)
class Order:
    """A lay that is asked for.

    Parameters
    ----------
    title : str
        What it is called.
    says : str
        What is special about it; empty for the plain lay of its cloth.
    problem : Problem
        The lay.
    width_mm : float
        Width of the cloth as bought [mm].
    face : str
        Which side of the cloth is up.
    one_way : bool
        Whether the cloth runs one way.
    cloth : str
        The cloth as its label says.
    extra : Extra
        What is bought beyond the lay.
    price : Price or None
        As the label prints it.
    units : str
        ``metric`` or ``imperial``.
    table_mm : float
        Length of the table; 0 for one that is long enough [mm].
    back : str
        Query of the page that asked.
    whys : tuple of str
        Why the cloth is laid as it is, one sentence each.
    there_mm : float
        Cloth that is there already; 0 if it is still to be bought [mm].
    plain : str
        Key of the plain lay that this is another choice for; empty for one that stands alone.
    """

    title: str
    says: str
    problem: Problem
    width_mm: float
    face: str
    one_way: bool
    cloth: str
    extra: Extra
    price: Price | None
    units: str
    table_mm: float
    back: str
    whys: tuple[str, ...] = ()
    there_mm: float = 0.0
    plain: str = ""


@dataclass(frozen=True, slots=True)
class DeskView:
    """A lay as it stands.

    Parameters
    ----------
    key : str
        Its key.
    order : Order
        What was asked.
    job : JobView or None
        The work; None before it has begun.
    answer : LayAnswer or None
        The best so far; None before the first.
    buy : dict of str to object or None
        What to buy for it.
    """

    key: str
    order: Order
    job: JobView | None
    answer: LayAnswer | None
    buy: dict[str, Any] | None

    @property
    def state(self) -> str:
        """``asked`` before it has begun, else that of the work."""
        return self.job.state if self.job else "asked"

    @property
    def found(self) -> bool:
        """Whether there is a lay to look at."""
        return self.answer is not None and self.answer.found

    @property
    def there_mm(self) -> float:
        """Length of cloth that is, or will be, there to lay [mm]."""
        if self.order.there_mm or self.buy is None:
            return self.order.there_mm
        return length_to_lay_mm(self.buy["buy_mm"], self.order.extra)

    def picture(self, cut: Collection[Copy] = ()) -> LayPicture:
        """Return what is drawn of it.

        Parameters
        ----------
        cut : collection of (str, int)
            Pieces that are cut already.

        Returns
        -------
        LayPicture
            The drawing.

        Raises
        ------
        UnknownNameError
            If there is no lay yet.
        """
        if self.answer is None:
            raise UnknownNameError("there is no lay yet", "lay", "wait for the first")
        order = self.order
        return lay_picture(
            self.answer, order.title, face=order.face, nap=order.one_way, cloth=order.cloth,
            bought_mm=self.there_mm, table_mm=order.table_mm, units=order.units, cut=cut,
        )  # fmt: skip


def case_order(ask: LayAsk, case: LayCase, table_mm: float, back: str) -> Order:
    """Return the order for a lay of a costume.

    Parameters
    ----------
    ask : LayAsk
        What was asked.
    case : LayCase
        The lay.
    table_mm : float
        Length of the table [mm].
    back : str
        Query of the page that asked.

    Returns
    -------
    Order
        For the plain lay.
    """
    whys = [why.claim for _, why in case.rules.reasons]
    whys += [why.claim for why in case.extra.reasons] + list(case.notes)
    return Order(
        f"{case.kind.capitalize()}", "", case.problem, case.width_mm, case.rules.face,
        case.rules.one_way, case.label, case.extra, case.price, ask.units, table_mm, back,
        tuple(dict.fromkeys(whys)),
    )  # fmt: skip


def option_orders(ask: LayAsk, case: LayCase, order: Order, plain: str) -> tuple[Order, ...]:
    """Return the orders for the other choices of a lay.

    Parameters
    ----------
    ask : LayAsk
        What was asked.
    case : LayCase
        The lay.
    order : Order
        Its own order.
    plain : str
        Key of that order.

    Returns
    -------
    tuple of Order
        One a choice.
    """
    return tuple(
        replace(
            order, title=f"{order.title}: {one.name}", says=one.says, problem=one.problem,
            plain=plain,
        )
        for one in case_options(ask, case)
    )  # fmt: skip


class LayDesk:
    """Keeps orders and the work on them.

    Parameters
    ----------
    jobs : Jobs
        The runner.
    known : mutable mapping of str to object or None
        Where lays that are done lie, over a restart too.
    """

    def __init__(self, jobs: Jobs, known: MutableMapping[str, Any] | None = None) -> None:
        self._jobs = jobs
        self._known: MutableMapping[str, Any] = {} if known is None else known
        self._results: dict[str, dict[str, Any]] = {}
        self._orders: OrderedDict[str, tuple[Order, float, int]] = OrderedDict()

    def put(self, order: Order, *, seconds: float, seed: int) -> str:
        """Put an order down without beginning it.

        Parameters
        ----------
        order : Order
            The order.
        seconds : float
            Time to search [s].
        seed : int
            Start of the random numbers.

        Returns
        -------
        str
            Its key; the same for the same question.
        """
        asked = (order.title, order.says, order.cloth, order.problem, seconds, seed)
        key = content_key(asked, VERSION)[:16]
        kept = None if key in self._results else kept_lay(self._known, key)
        if kept is not None:
            self._results[key] = kept[2]
        self._orders[key] = (order, seconds, seed)
        self._orders.move_to_end(key)
        while len(self._orders) > MOST_KEPT:
            self._results.pop(self._orders.popitem(last=False)[0], None)
        return key

    def begin(self, key: str) -> None:
        """Begin the work on an order, unless it is done or under way.

        Parameters
        ----------
        key : str
            Its key.
        """
        order, seconds, seed = self._found(key)
        job = self._job(key)
        if key in self._results and job is None:
            return
        if job is not None and job.state in {"cancelled", "failed"}:
            self._results.pop(key, None)
        argument = {"problem": problem_json(order.problem), "seconds": seconds, "seed": seed}
        self._jobs.start(work_on_lay, argument, key)

    def cancel(self, key: str) -> None:
        """Stop the work on an order; the best so far stays.

        Parameters
        ----------
        key : str
            Its key.
        """
        self._found(key)
        self._jobs.cancel(key)

    def view(self, key: str) -> DeskView:
        """Return an order as it stands.

        Parameters
        ----------
        key : str
            Its key.

        Returns
        -------
        DeskView
            With the best so far.
        """
        order, seconds, seed = self._found(key)
        job = self._job(key)
        if job is None and key in self._results:
            job = JobView(key, "done", 0, 0.0, result=self._results[key])
        if job is None:
            return DeskView(key, order, None, None, None)
        if job.finished and job.result and key not in self._results:
            self._results[key] = self._no_longer(order, job.result)
            keep_lay(self._known, key, order, self._results[key], (seconds, seed))
        document = (self._results.get(key) if job.finished else None) or job.result or job.progress
        if not document:
            return DeskView(key, order, job, None, None)
        answer = LayAnswer(order.problem, lay_of(document))
        buy = None
        if answer.found and order.problem.outline_mm is None:
            buy = buy_json(answer.lay.length_mm, answer.lay.bound_mm, order.extra, order.price)
        return DeskView(key, order, job, answer, buy)

    def go_on(
        self, key: str, *, pins: Collection[Copy] = (), trouble: Trouble | None = None,
        seconds: float, seed: int,
    ) -> str:  # fmt: skip
        """Put down an order for the rest of a lay, or for one with pieces pinned down.

        Parameters
        ----------
        key : str
            Key of the lay.
        pins : collection of (str, int)
            Pieces that stay where they lie.
        trouble : Trouble or None
            What came out differently.
        seconds : float
            Time to search [s].
        seed : int
            Start of the random numbers.

        Returns
        -------
        str
            Key of the new order.

        Raises
        ------
        UnknownNameError
            If there is no lay yet.
        """
        view = self.view(key)
        if view.answer is None or not view.found:
            raise UnknownNameError("there is no lay yet", "lay", "wait for the first")
        order, lay = view.order, view.answer.lay
        if trouble is not None:
            problem = rest_problem(order.problem, lay, trouble)
            there = sum(trouble.lengths_mm) or (
                view.there_mm if trouble.cut | trouble.spoilt else 0.0
            )
            order = replace(
                order, problem=problem, width_mm=trouble.width_mm or order.width_mm, there_mm=there
            )
            says = "the rest, laid again"
        else:
            problem = pinned(order.problem, lay, pins)
            order = replace(order, problem=problem)
            says = f"{len(pins)} pinned down"
        return self.put(replace(order, says=says, plain=""), seconds=seconds, seed=seed)

    def states(self, keys: Sequence[str]) -> list[dict[str, Any]]:
        """Return how several orders stand, in short.

        Parameters
        ----------
        keys : sequence of str
            Their keys.

        Returns
        -------
        list of dict of str to object
            ``key``, ``state``, ``turn``, ``seconds``, ``length_mm`` and ``bound_mm``.
        """
        told = []
        for key in keys:
            view = self.view(key)
            lay = view.answer.lay if view.answer else None
            told.append(
                {
                    "key": key,
                    "state": view.state,
                    "turn": view.job.turn if view.job else 0,
                    "seconds": round(view.job.seconds, 1) if view.job else 0.0,
                    "length_mm": lay.length_mm if lay else None,
                    "bound_mm": lay.bound_mm if lay else None,
                }
            )
        return told

    def _no_longer(self, order: Order, result: dict[str, Any]) -> dict[str, Any]:
        """Return what was found for another choice, or the plain lay where that will do."""
        if not order.plain or order.plain not in self._orders:
            return result
        plain = self.view(order.plain).answer
        if plain is None:
            return result
        return lay_json(no_longer(LayAnswer(order.problem, lay_of(result)), plain))

    def _job(self, key: str) -> JobView | None:
        try:
            return self._jobs.look(key)
        except UnknownNameError:
            return None

    def _found(self, key: str) -> tuple[Order, float, int]:
        kept = None if key in self._orders else kept_lay(self._known, key)
        if kept is not None:
            order, asked, self._results[key] = kept
            self._orders[key] = (order, *asked)
        if key not in self._orders:
            raise UnknownNameError(
                "that lay is no longer on the table", "lay", "ask for it again at /lay"
            )
        return self._orders[key]


@lru_cache(maxsize=1)
def _runner() -> Jobs:
    return Jobs()


@lru_cache(maxsize=4)
def lay_desk(folder: Path) -> LayDesk:
    """Return the desk of this process.

    Parameters
    ----------
    folder : Path
        Where lays that are done are kept.

    Returns
    -------
    LayDesk
        The same for the same folder; all share one runner.
    """
    return LayDesk(_runner(), KeptAnswers(folder))
