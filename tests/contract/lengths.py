"""The naive reading of rows and lengths: a way against the allowances of its runs. Standard library only."""

from __future__ import annotations

import itertools
import math
from typing import Any

from tests.contract.charging import Group, charge, elbow_count
from tests.contract.limits import straight
from tests.contract.page import Case, Miss, Page, Row, lookup
from tests.contract.reading import AIR, FLUE, HAIR, Run, same
from tests.contract.ways import Fault, Figures, Leg


class Lengths:
    """What a way comes to by its tables. The attributes are those of a job that has been read."""

    eased: frozenset[str]
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

    def two_pipes(self, leg: Leg) -> bool | str | None:
        """Whether the appliances of a way have an air pipe: True, False, None where one does not say, or 'mixed'."""
        raise NotImplementedError

    def others_of(self, leg: Leg) -> list[Leg]:
        """The ways of the other pipe of the appliances of this way."""
        other = AIR if leg.runs[0].carries == FLUE else FLUE
        served = set(leg.runs[0].serves)
        return [way for name, ways in self.ways[other].items() if name in served for way in ways]

    def every_way(self) -> list[Leg]:
        """The ways of both gases."""
        return [way for ways in self.ways.values() for several in ways.values() for way in several]

    def _rows(self, leg: Leg, run: Run) -> dict[float, list[tuple[Page, Row]]]:
        """The rows by size of one run of a way, as part of it; a miss becomes a fault."""
        page = self.pages[run.name]
        found: dict[float, list[tuple[Page, Row]]] = {}
        if page is None or self.altitude is None:
            return found
        others = self.others_of(Leg((), (run,)))
        end = leg.end
        if end is None and "an end for every part" in self.eased and leg.runs[-1].outer != "outdoors":
            ways = [way for way in self.every_way() if run in way.runs]
            end = ways[0].end if ways else None
        for size in run.sizes:
            case = Case(
                size,
                run.carries,
                self.altitude,
                run.input,
                self.two_pipes(Leg((), (run,))),
                end,
                tuple(piece.material for piece in leg.pieces),
                tuple(size for other in others for run in other.runs for size in run.sizes),
            )
            try:
                found[size] = [(page, row) for row in lookup(page, case)]
            except Miss as miss:
                self.fault(miss.verdict, miss.reason, leg.names)
        return found

    def _length(self, legs: list[Leg]) -> None:
        """Compare a way, or two that count together, with the allowances of its runs."""
        names = tuple(name for leg in legs for name in leg.names)
        by_size: dict[float, list[tuple[Page, Row]]] = {}
        wanted = 0
        for leg in legs:
            for run in leg.runs:
                wanted += len(run.sizes)
                for size, rows in self._rows(leg, run).items():
                    by_size.setdefault(size, []).extend(rows)
        every = [pair for rows in by_size.values() for pair in rows]
        if not every:
            return
        if len(names) == 1:
            self._pressures(every, names[0])
        shares = any(page.shares for page, _ in every)
        judged = [self._judged(page, row, legs, names) for page, row in every]
        self._minimum(legs, every, names)
        if shares and len(by_size) > 1:
            self._shares(by_size, legs, names)
        elif self._longer(every, judged):
            self.fault("over", "length", names)
        whole = len(legs) == 1 and legs[0].runs[-1].outer == "outdoors" and legs[0].runs[0].inner in self.appliances
        if len(every) == 1 == wanted and judged[0] is not None and whole and not self._missing(names):
            row = every[0][1]
            self.figures[names[0]] = Figures(judged[0][0], judged[0][1], row.minimum or None, row.number)

    def _missing(self, names: tuple[str, ...]) -> bool:
        """Whether a deduction is missing on a way."""
        return Fault("incomplete", "no deduction", names) in self.faults

    def _longer(self, rows: list[tuple[Page, Row]], judged: list[tuple[float, float] | None]) -> bool:
        """Whether a way is longer than a row allows, or by one table than the row of another allows."""
        found = [(page.file, one) for (page, _), one in zip(rows, judged, strict=True) if one is not None]
        return any(
            equivalent > allowable + HAIR
            for number, (file, (equivalent, _)) in enumerate(found)
            for place, (other, (_, allowable)) in enumerate(found)
            if place == number or (file != other and "each run by its own table" not in self.eased)
        )

    def _pressures(self, rows: list[tuple[Page, Row]], name: str) -> None:
        """Keep the least pressure that the rows of a whole run allow."""
        for page, row in rows:
            if row.kind == "pressure":
                allowed = row.pressure * self._factor(page, row)
                self.pressures[name] = min(allowed, self.pressures.get(name, allowed))

    def _groups(self, legs: list[Leg]) -> list[Group]:
        return [group for leg in legs for group in leg.groups]

    def _judged(self, page: Page, row: Row, legs: list[Leg], names: tuple[str, ...]) -> tuple[float, float] | None:
        """Equivalent and allowable length by a row; None where the row gives no length, which is then a fault."""
        ordered = [legs] if "included in each run" in self.eased else list(itertools.permutations(legs))
        charges = [charge(page, self._groups(list(order)), row) for order in ordered]
        if "included in each run" in self.eased:
            each = [charge(page, self._groups([leg]), row) for leg in legs]
            charges[0].items = [item for one in each for item in one.items]
        if any(one.missing for one in charges):
            self.fault("incomplete", "no deduction", names)
        allowable = self._allowable(page, row, legs, names)
        return None if allowable is None else (max(one.total for one in charges), allowable)

    def _allowable(self, page: Page, row: Row, legs: list[Leg], names: tuple[str, ...]) -> float | None:
        if row.kind == "pressure":
            return None
        place = 0
        if row.kind == "elbows":
            place = max(0, elbow_count(page, self._groups(legs)) - row.first)
            if place >= len(row.lengths):
                self.fault("over", "too many elbows", names)
                return None
        value = row.lengths[place]
        if value is None:
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

    def _minimum(self, legs: list[Leg], rows: list[tuple[Page, Row]], names: tuple[str, ...]) -> None:
        """Minimum lengths are of whole ways."""
        if any(leg.runs[-1].outer != "outdoors" or leg.runs[0].inner not in self.appliances for leg in legs):
            return
        minimum = max(row.minimum for _, row in rows)
        lengths = [straight(leg.pieces) for leg in legs]
        if "minimum by equivalent length" in self.eased:
            lengths = [max(charge(page, list(leg.groups), row).total for page, row in rows) for leg in legs]
        if "minimum of the sum" in self.eased:
            lengths = [sum(lengths)]
        if min(lengths) < minimum - HAIR:
            self.fault("short", "minimum", names)

    def _shares(self, by_size: dict[float, list[tuple[Page, Row]]], legs: list[Leg], names: tuple[str, ...]) -> None:
        """Each size's equivalent length over its own allowance, added up, is at most 1."""
        if any(row.kind == "pressure" for rows in by_size.values() for _, row in rows):
            return
        allowances: dict[float, float] = {}
        for size, pairs in by_size.items():
            found = [self._allowable(page, row, legs, names) for page, row in pairs]
            if any(value is None for value in found):
                return
            allowances[size] = min(value for value in found if value is not None)
        charges = [charge(page, self._groups(legs), row) for rows in by_size.values() for page, row in rows]
        total = max(self._share(one.items, allowances) for one in charges)
        if total > 1.0 + HAIR / max(HAIR, min(allowances.values())):
            self.fault("over", "shares", names)

    def _share(self, items: list[tuple[float, tuple[float, ...]]], allowances: dict[float, float]) -> float:
        """What these lengths come to as shares of the allowances of their sizes."""
        total = 0.0
        for value, sizes in items:
            mine = [allowances[size] for size in allowances if any(same(size, one) for one in sizes)]
            mine = mine or list(allowances.values())
            if "own share" in self.eased:
                mine = [allowances[size] for size in allowances if same(size, sizes[-1])] or mine
            if value:
                total += value / min(mine) if min(mine) > 0.0 else math.inf
        return total
