"""How well each suspect explains all readings together: its size by least squares, its score by likelihood.

Readings are weighted by what they may be off by together (`Margins`), so that ten readings of one uncertain elbow do
not count as ten. A suspect's own effect is uncertain too, with the flow: that widens the margins in proportion, and
fittings of another size bring the spread of their own losses along. The score is -2 ln of the evidence: what is left
unexplained, and how much of the range of sizes the readings rule out (Laplace's approximation; MacKay 2003, ch. 28).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.linalg import cho_factor, cho_solve, solve_triangular
from scipy.optimize import brentq, least_squares

from ventsize.studies.diagnosis.causes import Suspect
from ventsize.studies.readings.case import Array
from ventsize.studies.readings.margins import wider
from ventsize.studies.readings.model import Change, Model
from ventsize.studies.uncertainty.ranges import Ranges

LAW = 0.03  # how far a suspect's effect may depart from its law between rates, standard deviation over the effect
COARSE = 7  # sizes tried before the search
PLAINLY = 4.0  # standard deviations; a cause that moves the readings by so much is hardly overlooked
NINETEEN = 1.96  # standard deviations either way that hold nineteen of twenty
MOST = 0.035  # of a flow, standard deviation, where one stands for all


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """A suspect at the size that explains the readings best.

    low, high: between them lie nineteen of twenty sizes. shows: every tap with it. chi_square, score: see above.
    factor: of the margins of the taps read, its own uncertainty included.
    """

    suspect: Suspect
    size: float
    low: float
    high: float
    shows: Array
    chi_square: float
    score: float
    factor: Array


class Fitter:
    """Fits suspects to readings.

    measured: the values of the first taps of the model, which are those that were read; covariance: of every tap.
    """

    def __init__(self, model: Model, ranges: Ranges, measured: Array, covariance: Array) -> None:
        self.model, self.ranges, self.measured = model, ranges, measured
        self.count = len(measured)
        self.covariance = covariance
        self._read = covariance[: self.count, : self.count]
        self._factor = cho_factor(self._read, lower=True)
        self._log_size = _log_determinant(self._factor[0])
        self.nominal = model.base[: self.count]

    def unexplained(self, shows: Array) -> float:
        """Chi square of what is left, with the margins of the vent as it should be."""
        left = self.measured - shows[: self.count]
        return float(left @ cho_solve(self._factor, left))

    def apart(self, one: Array, other: Array) -> float:
        """How far two predictions of the taps read lie apart, in standard deviations."""
        difference = (one - other)[: self.count]
        return math.sqrt(max(float(difference @ cho_solve(self._factor, difference)), 0.0))

    def alike(self, one: Fit, other: Fit) -> float:
        """How far two causes lie apart in the taps read, in standard deviations.

        Where one is pipe of another size, in those that the spread of its own fittings leaves.
        """
        difference = (one.shows - other.shows)[: self.count]
        sizes = (fit.factor for fit in (one, other) if fit.suspect.stretch is not None)
        squares = (float(np.sum(solve_triangular(factor, difference, lower=True) ** 2)) for factor in sizes)
        return min([self.apart(one.shows, other.shows), *map(math.sqrt, squares)])

    def surprise(self, one: Array, other: Array, tap: int) -> float:
        """How far two predictions of a tap not read lie apart, over what the readings and its instrument leave open."""
        beside = self.covariance[: self.count, tap]
        open_ = self.covariance[tap, tap] - float(beside @ cho_solve(self._factor, beside))
        return float(abs(one[tap] - other[tap])) / math.sqrt(max(open_, 1e-18))

    def seen(self, suspect: Suspect) -> bool:
        """Whether these readings would show a suspect at all, were it large."""
        return self.apart(self.model.shows(suspect.change(suspect.large)), self.model.base) >= 1.0

    def noticed_from(self, suspect: Suspect) -> float | None:
        """The smallest size of a suspect that these readings would show plainly; None where there is none."""
        low, high = suspect.bounds
        if suspect.fixed:
            return None

        def plain(size: float) -> float:
            return self.apart(self.model.shows(suspect.change(size)), self.model.base) - PLAINLY

        faint, strong = (high, low) if suspect.size_kind == "open bore" else (low, high)
        if plain(strong) <= 0.0:
            return None
        return faint if plain(faint) >= 0.0 else float(brentq(plain, faint, strong, rtol=1e-3))

    def fit(self, suspect: Suspect) -> Fit:
        """The best size of a suspect."""
        shows: dict[float, Array] = {}

        def at(size: float) -> Array:
            if size not in shows:
                shows[size] = self.model.shows(suspect.change(size))
            return shows[size]

        def left(size: float, factor: Array) -> Array:
            return np.asarray(solve_triangular(factor, self.measured - at(size)[: self.count], lower=True))

        low, high = suspect.bounds
        size, spread, penalty = low, 0.0, 0.0
        if not suspect.fixed:
            tried = np.geomspace(low, high, COARSE) if low > 0.0 else np.linspace(low, high, COARSE)
            size = min(map(float, tried), key=lambda one: float(np.sum(left(one, self._factor[0]) ** 2)))
            factor = self._widened(at(size), suspect, suspect.change(size))
            edge = 1e-3 * (high - low)
            found = least_squares(
                lambda x: left(float(x[0]), factor),
                [min(max(size, low + edge), high - edge)],
                bounds=([low], [high]),
                x_scale=[high - low],
                xtol=1e-4,
                ftol=1e-4,
                max_nfev=15,
            )
            size, slope = float(found.x[0]), float(np.sum(found.jac**2))
            sigma = 1.0 / math.sqrt(slope) if slope > 0.0 else high - low
            spread = NINETEEN * sigma
            penalty = max(2.0 * math.log((high - low) / (sigma * math.sqrt(2.0 * math.pi))), 0.0)
        factor = self._widened(at(size), suspect, suspect.change(size))
        chi_square = float(np.sum(left(size, factor) ** 2))
        return Fit(
            suspect=suspect,
            size=size,
            low=max(low, size - spread),
            high=min(high, size + spread),
            shows=at(size),
            chi_square=chi_square,
            score=chi_square + _log_determinant(factor) - self._log_size + penalty,
            factor=factor,
        )

    def fit_two(self, one: Fit, other: Fit) -> tuple[Array, float, float]:
        """Two causes at once, from their sizes by themselves: the sizes, chi square and score of both together."""
        both = [one, other]
        low, high = (np.array([fit.suspect.bounds[end] for fit in both]) for end in (0, 1))
        free = high > low
        span = np.where(free, high - low, 1.0)

        def left(x: Array) -> Array:
            sizes = low + x * span
            shows = self.model.shows(_both(both, sizes))
            return np.asarray(solve_triangular(factor, self.measured - shows[: self.count], lower=True))

        start = (np.array([fit.size for fit in both]) - low) / span
        start = np.clip(start, 0.01, 0.99)
        factor = self._factor[0]
        found = least_squares(left, start, bounds=([0.0, 0.0], [1.0, 1.0]), xtol=1e-4, ftol=1e-4, max_nfev=25)
        sizes = low + found.x * span
        change = _both(both, sizes)
        factor = self._widened_by(self.model.shows(change), [fit.suspect for fit in both], change)
        chi_square = float(np.sum(left(found.x) ** 2))
        slopes = found.jac.T @ found.jac + np.eye(2) * 1e-9
        penalty = max(float(np.linalg.slogdet(slopes)[1]) - 2.0 * math.log(2.0 * math.pi), 0.0)
        return sizes, chi_square, chi_square + _log_determinant(factor) - self._log_size + penalty

    def _widened(self, shows: Array, suspect: Suspect, change: Change) -> Array:
        return self._widened_by(shows, [suspect], change)

    def _widened_by(self, shows: Array, suspects: Sequence[Suspect], change: Change) -> Array:
        """The factor of the margins with the suspects' effect as uncertain as the flow."""
        effect = (shows - self.model.base)[: self.count]
        covariance = self._read.copy()
        for case in self.model.cases:
            rows = case.rows[case.in_pipe & (case.rows < self.count)]
            own = np.zeros(self.count)
            own[rows] = effect[rows] * math.hypot(LAW, 2.0 * MOST / math.sqrt(2.0))
            covariance += np.outer(own, own)
        if any(moves_the_flow(suspect) for suspect in suspects):
            lost = self.model.may_lose(change)[: self.count] / math.sqrt(3.0)  # anything from none to all of it
            covariance += np.outer(lost, lost)
        if change.swaps:
            columns = wider(self.model, self.ranges, change.swaps).columns[: self.count]
            covariance += columns @ columns.T
        return np.asarray(cho_factor(covariance, lower=True)[0])


def _both(fits: Sequence[Fit], sizes: Array) -> Change:
    one, other = (fit.suspect.change(float(size)) for fit, size in zip(fits, sizes, strict=True))
    return one.beside(other)


def moves_the_flow(suspect: Suspect) -> bool:
    """Whether a suspect adds to, or takes from, what the inducer works against."""
    return suspect.run is not None or suspect.kind in ("room pressure", "wind")


def _log_determinant(factor: Array) -> float:
    return 2.0 * float(np.sum(np.log(np.diag(factor))))
