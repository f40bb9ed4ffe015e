"""The naive reading of rows and lengths: a way against the allowances of its runs. Standard library only."""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from typing import Any

from tests.contract.charging import Group, charge, elbow_count
from tests.contract.limits import straight
from tests.contract.page import Case, Miss, Page, Row, lookup
from tests.contract.reading import AIR, FLUE, HAIR, Run, same
from tests.contract.ways import Fault, Figures, Leg

Pairs = list[tuple[Page, Row]]


class Lengths(ABC):
    """What a way comes to by its tables. The attributes are those of a job that has been read."""

    faults: list[Fault]
    figures: dict[str, Figures]
    pressures: dict[str, float]
    altitude: float | None
    appliances: dict[str, Any]
    ways: dict[str, dict[str, list[Leg]]]
    pages: dict[str, Page | None]

    def fault(self, verdict: str, reason: str, runs: tuple[str, ...] = ()) -> None:
        """Note what keeps the job from being within."""
        self.faults.append(Fault(verdict, reason, runs))

    @abstractmethod
    def two_pipes(self, leg: Leg) -> bool | str | None:
        """Whether the appliances of a way have an air pipe: True, False, None where one does not say, or 'mixed'."""

    def others_of(self, leg: Leg) -> list[Leg]:
        """The ways of the other pipe of the appliances of this way."""
        other = AIR if leg.runs[0].carries == FLUE else FLUE
        served = set(leg.runs[0].serves)
        return [way for name, ways in self.ways[other].items() if name in served for way in ways]

    def every_way(self) -> list[Leg]:
        """The ways of both gases."""
        return [way for ways in self.ways.values() for several in ways.values() for way in several]

    def ends_of(self, leg: Leg) -> tuple[str, ...] | None:
        """The listed ends of a way; of a part that does not reach outdoors those of its ways out."""
        reaching = [leg] if leg.runs[-1].outer == "outdoors" else self.every_way()
        ends = [way.end for way in reaching if leg.runs[-1].name in way.names]
        return None if None in ends else tuple(end for end in ends if end is not None)

    def rows(self, leg: Leg, run: Run) -> dict[float, Pairs] | None:
        """The rows by size of one run of a way; None after a miss, which becomes a fault."""
        page = self.pages[run.name]
        if page is None or run.carries not in page.applies:
            return None
        found: dict[float, Pairs] = {}
        two = self.two_pipes(Leg((), (run,)))
        others = [one for other in self.others_of(Leg((), (run,))) for one in other.runs]
        for size in run.sizes:
            case = Case(
                size,
                run.carries,
                self.altitude,
                run.input,
                two,
                self.ends_of(leg),
                tuple(piece.material for piece in leg.pieces),
                None if not others and two is not False else tuple(size for one in others for size in one.sizes),
            )
            try:
                found[size] = [(page, row) for row in lookup(page, case)]
            except Miss as miss:
                self.fault(miss.verdict, miss.reason, leg.names)
        return found if len(found) == len(run.sizes) else None

    def compare(self, legs: list[Leg]) -> None:
        """Compare a way, or two that count together, with the allowances of its runs, once all of it is looked up."""
        names = tuple(name for leg in legs for name in leg.names)
        found = [self.rows(leg, run) for leg in legs for run in leg.runs]
        by_size: dict[float, Pairs] = {}
        for size, pairs in ((size, pairs) for rows in found if rows is not None for size, pairs in rows.items()):
            known = by_size.setdefault(size, [])
            known += [pair for pair in pairs if pair not in known]
        if not by_size or None in found:
            return
        every = [pair for pairs in by_size.values() for pair in pairs]
        self._minimum(legs, every, names)
        if len({(page.file, run.input) for page, run in self._judged_by(legs)}) > 1:
            self._shortest(legs, every, names)
            return
        groups = [group for leg in legs for group in leg.groups]
        judged = [self._judged(page, row, groups, names) for page, row in every]
        lengths = {size: pairs for size, pairs in by_size.items() if any(row.kind != "pressure" for _, row in pairs)}
        if every[0][0].shares and len(lengths) > 1:
            self._shares(lengths, groups, names)
        elif any(one is not None and one[0] > one[1] + HAIR for one in judged):
            self.fault("over", "length", names)
        if len(names) == 1 and legs[0].runs[-1].outer == "outdoors" and legs[0].runs[0].inner in self.appliances:
            self._note(every, judged, names)

    def _note(self, every: Pairs, judged: list[tuple[float, float] | None], names: tuple[str, ...]) -> None:
        """Keep the figures of a run that is a whole way, and the least pressure that its rows allow."""
        for page, row in every:
            if row.kind == "pressure":
                allowed = row.pressure * self._factor(page, row)
                self.pressures[names[0]] = min(allowed, self.pressures.get(names[0], allowed))
        if (
            len(every) == 1
            and not every[0][0].together
            and judged[0] is not None
            and Fault("incomplete", "no deduction", names) not in self.faults
        ):
            row = every[0][1]
            self.figures[names[0]] = Figures(judged[0][0], judged[0][1], row.minimum or None, row.number)

    def _judged_by(self, legs: list[Leg]) -> list[tuple[Page, Run]]:
        found = [(self.pages[run.name], run) for leg in legs for run in leg.runs]
        return [(page, run) for page, run in found if page is not None]

    def _judged(self, page: Page, row: Row, groups: list[Group], names: tuple[str, ...]) -> tuple[float, float] | None:
        """Equivalent and allowable length by a row; None where the row gives no length, which is then a fault."""
        charged = charge(page, groups, row)
        if charged.missing:
            self.fault("incomplete", "no deduction", names)
        allowable = self._allowable(page, row, groups, names)
        return None if allowable is None else (charged.total, allowable)

    def _shortest(self, legs: list[Leg], every: Pairs, names: tuple[str, ...]) -> None:
        """A way over several inputs or tables: each table counts its own runs, and the shortest allowance holds.

        Elbows are included once, by the first table on the way out.
        """
        groups = [group for leg in legs for group in leg.groups]
        owners = [run for leg in legs for run in leg.owners]
        total, limit = 0.0, math.inf
        plain = any(row.kind == "plain" for _, row in every)
        files = list(dict.fromkeys(page.file for page, _ in self._judged_by(legs)))
        for file in files:
            mine = [group for group, run in zip(groups, owners, strict=True) if self._file(run) == file]
            lengths = [0.0]
            rows = [(page, row) for page, row in every if page.file == file]
            fittings = any(not piece.is_pipe for group in mine for piece in group.pieces)
            if plain and fittings and all(row.kind != "plain" for _, row in rows):
                self.fault("incomplete", "fittings that count as no length", names)
            for page, row in rows:
                charged = charge(page, mine, row if file == files[0] else row.including_none())
                if charged.missing:
                    self.fault("incomplete", "no deduction", names)
                lengths.append(charged.total)
                if row.kind != "pressure":
                    allowable = self._allowable(page, row, groups, names)
                    limit = min(limit, math.inf if allowable is None else allowable)
            total += max(lengths)
        if total > limit + HAIR:
            self.fault("over", "length", names)

    def _file(self, run: Run) -> str:
        page = self.pages[run.name]
        return "" if page is None else page.file

    def _allowable(self, page: Page, row: Row, groups: list[Group], names: tuple[str, ...]) -> float | None:
        if row.kind == "pressure":
            return None
        place = 0
        if row.kind == "elbows":
            place = max(0, elbow_count(page, groups) - row.first)
            if place >= len(row.lengths):
                self.fault("over", "too many elbows", names)
                return None
        value = row.lengths[place]
        if value is None or self._factor(page, row) <= 0.0:
            self.fault("over", "not permitted", names)
            return None
        return value * self._factor(page, row)

    def _factor(self, page: Page, row: Row) -> float:
        """What the altitude leaves of an allowance."""
        if page.factor is None or row.band is not None or self.altitude is None:
            return 1.0
        above, per, less = page.factor
        steps = math.ceil(max(0.0, self.altitude - above) / per - 1e-7)
        return max(0.0, 1.0 - steps * less)

    def _minimum(self, legs: list[Leg], rows: Pairs, names: tuple[str, ...]) -> None:
        """Minimum lengths are of whole ways, of straight pipe as it stands, and of each of two pipes."""
        if any(leg.runs[-1].outer != "outdoors" or leg.runs[0].inner not in self.appliances for leg in legs):
            return
        if min(straight(leg.pieces) for leg in legs) < max((row.minimum for _, row in rows), default=0.0) - HAIR:
            self.fault("short", "minimum", names)

    def _shares(self, by_size: dict[float, Pairs], groups: list[Group], names: tuple[str, ...]) -> None:
        """Each size's equivalent length over its own allowance, added up, is at most 1.

        By the row of each size of which most is used; a change of size is in the size with the shorter allowance.
        """
        found: dict[float, list[tuple[float, Page, Row]]] = {}
        for size, (page, row) in ((size, pair) for size, pairs in by_size.items() for pair in pairs):
            if row.kind == "pressure":
                continue
            allowable = self._allowable(page, row, groups, names)
            if allowable is None:
                return
            found.setdefault(size, []).append((allowable, page, row))
        least = {size: min(allowable for allowable, _, _ in each) for size, each in found.items()}
        total = 0.0
        for size, each in found.items():
            used = [
                sum(value for value, at in charge(page, groups, row).items if _owner(least, at) == size) / allowable
                for allowable, page, row in each
            ]
            total += max(used)
        if total > 1.0 + HAIR / max(HAIR, min(least.values())):
            self.fault("over", "shares", names)


def _owner(least: dict[float, float], sizes: tuple[float, ...]) -> float | None:
    """The size of those of a piece, if any, that has the shortest allowance."""
    return min((one for one in least if any(same(one, at) for at in sizes)), key=lambda one: least[one], default=None)
