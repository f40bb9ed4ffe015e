"""Options ranked as they come: the acceptable ones, the smallest, the nearest misses and what would change that."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from ventsize.studies.options import Option, Search

Order = Literal["margin", "joints", "cost"]
MISSES_SHOWN = 3  # of each route
RANGED = 10  # of the cheapest, whose costs are looked at as ranges


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteFound:
    """One way to lay the runs. routes: as in `Option.routes`. best: its first acceptable option.

    misses: the nearest, where it has none.
    """

    routes: tuple[str | None, ...]
    looked_at: int
    within: int
    best: Option | None
    misses: tuple[Option, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """The answer: acceptable options ranked, the smallest of them, and the nearest misses.

    failures: how many options each other verdict has. by_route: the same for each way to lay the runs, where there
    are several. undecided: how many of the first acceptable ones may each be the cheapest, since fitting lengths are
    estimated.
    """

    looked_at: int
    total: int
    acceptable: tuple[Option, ...]
    smallest: Option | None
    misses: tuple[Option, ...]
    failures: Mapping[str, int]
    order: Order
    by_route: tuple[RouteFound, ...] = ()
    undecided: int = 0

    @property
    def within(self) -> int:
        """How many of those looked at are acceptable."""
        return self.looked_at - sum(self.failures.values())


@dataclass(slots=True)
class _Route:
    looked_at: int = 0
    within: int = 0
    best: Option | None = None
    misses: list[Option] = field(default_factory=list)


@dataclass(slots=True)
class Ranking:
    """Takes options as they come; `found` says where things stand at any time.

    keep: how many acceptable options, and how many misses, are kept.
    """

    order: Order = "margin"
    keep: int = 1000
    looked_at: int = 0
    _acceptable: list[Option] = field(default_factory=list)
    _misses: list[Option] = field(default_factory=list)
    _smallest: Option | None = None
    _failures: dict[str, int] = field(default_factory=dict)
    _routes: dict[tuple[str | None, ...], _Route] = field(default_factory=dict)

    def take(self, option: Option) -> None:
        """Count an option in."""
        self.looked_at += 1
        self._take_by_route(option)
        if option.acceptable:
            self._acceptable.append(option)
            if self._smallest is None or _size_key(option) < _size_key(self._smallest):
                self._smallest = option
            if len(self._acceptable) >= 2 * self.keep:
                self._acceptable = sorted(self._acceptable, key=self._key)[: self.keep]
            return
        self._failures[option.check.verdict] = self._failures.get(option.check.verdict, 0) + 1
        self._misses.append(option)
        if len(self._misses) >= 2 * self.keep:
            self._misses = sorted(self._misses, key=_miss_key)[: self.keep]

    def _take_by_route(self, option: Option) -> None:
        route = self._routes.setdefault(option.routes, _Route())
        route.looked_at += 1
        if option.acceptable:
            route.within += 1
            if route.best is None or self._key(option) < self._key(route.best):
                route.best = option
        elif not route.within:
            route.misses.append(option)
            if len(route.misses) > 50 * MISSES_SHOWN:
                route.misses = sorted(route.misses, key=_miss_key)[:MISSES_SHOWN]

    def reordered(self, order: Order) -> None:
        """Rank by something else from now on, what has been seen so far included, as far as it is kept."""
        self.order = order
        for route in self._routes.values():
            route.best = None
        for option in self._acceptable:
            route = self._routes[option.routes]
            if route.best is None or self._key(option) < self._key(route.best):
                route.best = option

    def found(self, total: int) -> Found:
        """The options taken so far, ranked."""
        ranked = tuple(sorted(self._acceptable, key=self._key)[: self.keep])
        misses = tuple(sorted(self._misses, key=_miss_key)[: self.keep])
        return Found(
            looked_at=self.looked_at,
            total=total,
            acceptable=ranked,
            smallest=self._smallest,
            misses=misses,
            failures=dict(self._failures),
            order=self.order,
            by_route=tuple(self._by_route()) if len(self._routes) > 1 else (),
        )

    def _by_route(self) -> Iterator[RouteFound]:
        for routes, one in self._routes.items():
            misses = () if one.within else sorted(one.misses, key=_miss_key)[:MISSES_SHOWN]
            yield RouteFound(
                routes=routes,
                looked_at=one.looked_at,
                within=one.within,
                best=one.best,
                misses=tuple(misses),
            )

    def _key(self, option: Option) -> tuple[float, ...]:
        margin = option.check.margin
        left = float("inf") if margin is None else -margin
        if self.order == "joints":
            return (option.joints, option.largest, left)
        if self.order == "cost":
            total = option.cost.known if option.cost else None
            return (total is None, float(total or 0), option.joints, left)
        return (left, option.joints, option.largest)


def _size_key(option: Option) -> tuple[float, int, float]:
    return (option.largest, option.joints, -(option.check.margin or 0.0))


def _miss_key(option: Option) -> tuple[int, float, int]:
    """Those that lack the least first; what a table does not cover last."""
    margin = option.check.margin
    order = ("over", "short", "incomplete", "not covered").index(option.check.verdict)
    return (order, float("inf") if margin is None else -margin, option.joints)


def look(search: Search, *, order: Order = "margin", keep: int = 1000) -> Found:
    """All options looked at, in one go."""
    ranking = Ranking(order=order, keep=keep)
    for option in search:
        ranking.take(option)
    return ranking.found(search.total)


def with_ranges(found: Found, search: Search) -> Found:
    """The first options by cost, with what estimated fitting lengths leave open of it and of their ranks."""
    if found.order != "cost":
        return found
    options = [replace(option, cost=search.ranged_cost(option)) for option in found.acceptable[:RANGED]]
    costs = [option.cost for option in options if option.cost is not None and option.cost.known is not None]
    undecided = sum(cost.may_equal(costs[0]) for cost in costs if cost.total > costs[0].total)
    return replace(
        found, acceptable=(*options, *found.acceptable[RANGED:]), undecided=undecided + 1 if undecided else 0
    )
