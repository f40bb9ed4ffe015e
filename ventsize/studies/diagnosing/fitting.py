"""How well each suspect explains all readings together: its size by least squares, its score by likelihood.

Readings are weighted by what they may be off by together (`Margins`), so that ten readings of one uncertain elbow do
not count as ten. A suspect's own effect is uncertain too, with the flow: that widens the margins in proportion. The
score is what is left unexplained, plus a penalty of ln(n) for each number fitted (Schwarz 1978).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.linalg import cho_factor, cho_solve, solve_triangular
from scipy.optimize import least_squares

from ventsize.studies.diagnosing.case import Array
from ventsize.studies.diagnosing.causes import Suspect
from ventsize.studies.diagnosing.model import Model

LAW = 0.03  # how far a suspect's effect may depart from its law between rates, standard deviation over the effect
COARSE = 9  # sizes tried before the search
TRIES = 2  # fits, each with the margins of the fit before
MOST = 0.035  # of a flow, standard deviation, where one stands for all


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """A suspect at the size that explains the readings best. shows: every tap with it. chi_square, score: see above."""

    suspect: Suspect
    size: float
    shows: Array
    chi_square: float
    score: float


class Fitter:
    """Fits suspects to readings.

    measured: the values of the first taps of the model, which are those that were read; covariance: of every tap.
    """

    def __init__(self, model: Model, measured: Array, covariance: Array) -> None:
        self.model, self.measured = model, measured
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

    def surprise(self, one: Array, other: Array, tap: int) -> float:
        """How far two predictions of a tap not read lie apart, over what the readings and its instrument leave open."""
        beside = self.covariance[: self.count, tap]
        open_ = self.covariance[tap, tap] - float(beside @ cho_solve(self._factor, beside))
        return float(abs(one[tap] - other[tap])) / math.sqrt(max(open_, 1e-18))

    def seen(self, suspect: Suspect) -> bool:
        """Whether these readings would show a suspect at all, were it large."""
        return self.apart(self.model.shows(suspect.change(suspect.large)), self.model.base) >= 1.0

    def fit(self, suspect: Suspect) -> Fit:
        """The best size of a suspect."""
        shows = {}

        def at(size: float) -> Array:
            key = float(size)
            if key not in shows:
                shows[key] = self.model.shows(suspect.change(key))
            return shows[key]

        low, high = suspect.bounds
        size, factor = low, self._factor[0]
        for attempt in range(1 if suspect.fixed else TRIES):
            if not suspect.fixed:
                size = self._best_size(at, suspect, factor, None if attempt == 0 else size)
            factor = self._widened(at(size))
        if suspect.fixed:
            factor = self._widened(at(size))
        left = solve_triangular(factor, self.measured - at(size)[: self.count], lower=True)
        chi_square = float(left @ left)
        fitted = 2.0 if suspect.stretch is not None else 1.0
        penalty = fitted * math.log(max(self.count, 3))
        score = chi_square + _log_determinant(factor) - self._log_size + penalty
        return Fit(suspect=suspect, size=float(size), shows=at(size), chi_square=chi_square, score=score)

    def _best_size(self, at, suspect: Suspect, factor: Array, start: float | None) -> float:  # type: ignore[no-untyped-def]
        low, high = suspect.bounds

        def left(size: Array) -> Array:
            found = self.measured - at(float(size[0]))[: self.count]
            return np.asarray(solve_triangular(factor, found, lower=True))

        if start is None:
            tried = np.geomspace(low, high, COARSE) if low > 0.0 else np.linspace(low, high, COARSE)
            start = min(tried, key=lambda size: float(np.sum(left(np.array([size])) ** 2)))
        inside = min(max(start, low + 1e-3 * (high - low)), high - 1e-3 * (high - low))
        found = least_squares(left, [inside], bounds=([low], [high]), x_scale=[high - low], xtol=1e-6, max_nfev=25)
        return float(found.x[0])

    def _widened(self, shows: Array) -> Array:
        """The factor of the margins with a suspect's effect as uncertain as the flow."""
        effect = (shows - self.model.base)[: self.count]
        wider = self._read.copy()
        for case in self.model.cases:
            rows = case.rows[case.in_pipe & (case.rows < self.count)]
            own = np.zeros(self.count)
            own[rows] = effect[rows] * math.hypot(LAW, 2.0 * MOST / math.sqrt(2.0))
            wider += np.outer(own, own)
        return np.asarray(cho_factor(wider, lower=True)[0])

    def size_range(self, fit: Fit) -> tuple[float, float]:
        """The sizes that leave no more than 3.84 of chi square beyond the best: nineteen in twenty."""
        suspect = fit.suspect
        if suspect.fixed:
            return fit.size, fit.size
        factor = self._widened(fit.shows)
        low, high = suspect.bounds
        tried = np.union1d(np.linspace(low, high, 60), [fit.size])
        fits = []
        for size in tried:
            left = solve_triangular(
                factor, self.measured - self.model.shows(suspect.change(float(size)))[: self.count], lower=True
            )
            if float(left @ left) <= fit.chi_square + 3.84:
                fits.append(float(size))
        return min(fits, default=fit.size), max(fits, default=fit.size)


def _log_determinant(factor: Array) -> float:
    return 2.0 * float(np.sum(np.log(np.diag(factor))))
