"""How well each suspect explains all readings together: its size by least squares, its score by likelihood.

Readings are weighted by what they may be off by together (`Margins`), so that ten readings of one uncertain elbow do
not count as ten. A suspect's own effect is uncertain too, with the flow: that widens the margins in proportion, and
fittings of another size bring the spread of their own losses along. The score is -2 ln of the evidence: what is left
unexplained, and how much of the range of sizes the readings rule out (MacKay 2003, ch. 28): of a single suspect on the
average of its sizes, of the likeliest two at once by Laplace's approximation.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import combinations

import numpy as np
from scipy.interpolate import PchipInterpolator
from scipy.linalg import cho_factor, cho_solve, solve_triangular
from scipy.optimize import brentq, least_squares

from ventsize.studies.diagnosis.causes import Suspect
from ventsize.studies.readings.case import Array
from ventsize.studies.readings.margins import wider
from ventsize.studies.readings.model import Change, Model
from ventsize.studies.uncertainty.ranges import Ranges

LAW = 0.03  # how far a suspect's effect may depart from its law between rates, standard deviation over the effect
COARSE = 7  # sizes tried before the search; between them a spline follows the effect
FINE, AVERAGED = 25, 200  # sizes of which the effect is kept; over which the likelihood is averaged
SMALL_STEP, STEPS, HALVINGS = 1e-3, 6, 3  # of the search: share of the range of sizes, and how many
WEIGHED = 2  # times; how far an effect may be off goes with its size
PLAINLY = 4.0  # standard deviations; a cause that moves the readings by so much is hardly overlooked
NINETEEN = 1.96  # standard deviations either way that hold nineteen of twenty
MOST = 0.035  # of a flow, standard deviation, where one stands for all
OFF = math.hypot(LAW, 2.0 * MOST / math.sqrt(2.0))  # of an effect


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """A suspect at the size that explains the readings best.

    low, high: between them lie nineteen of twenty sizes. shows: every tap with it. chi_square, score: see above.
    factor: of the margins of the taps read, its own uncertainty included. sizes, effects: some over its range, and
    how each moves the taps read, in standard deviations of the vent as it should be.
    """

    suspect: Suspect
    size: float
    low: float
    high: float
    shows: Array
    chi_square: float
    score: float
    factor: Array
    sizes: Array
    effects: Array


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
        self.whiten = np.linalg.inv(np.tril(self._factor[0]))
        self.log_size = _log_determinant(self._factor[0])
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

    def left_open(self) -> Array:
        """What the readings and the instruments leave open of the taps not read: their covariance."""
        beside = self.covariance[: self.count, self.count :]
        rest = self.covariance[self.count :, self.count :] - beside.T @ cho_solve(self._factor, beside)
        return np.asarray(rest + np.diag(np.full(len(rest), 1e-18)))

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
                shows[size] = self.model.shows(suspect.change(size), first=self.count)[: self.count]
            return shows[size]

        def off(whiten: Array, size: float) -> Array:
            return np.asarray(whiten @ (self.measured - at(size)))

        low, high = suspect.bounds
        size, spread = low, 0.0
        if not suspect.fixed:
            coarse = map(float, _spaced(low, high, COARSE))
            size = min(coarse, key=lambda one: float(np.sum((self.whiten @ (self.measured - at(one))) ** 2)))
            for _ in range(WEIGHED):
                whiten = np.asarray(np.linalg.inv(self.widened(at(size), suspect.change(size))), dtype=float)
                size, slope = _best(partial(off, whiten), size, low, high)
            spread = NINETEEN / math.sqrt(slope) if slope > 0.0 else high - low
        factor = self.widened(at(size), suspect.change(size))
        tried = np.array(sorted(shows))  # those on the way to the best too: there it matters most
        effects = np.array([shows[float(one)] - self.nominal for one in tried]) @ self.whiten.T
        sizes, few = (tried if suspect.fixed else _spaced(low, high, count) for count in (AVERAGED, FINE))
        left = self.whiten @ (self.measured - self.nominal) - _between(tried, effects, sizes)
        left = solve_triangular(self.whiten @ factor, left.T, lower=True).T
        return Fit(
            suspect=suspect,
            size=size,
            low=max(low, size - spread),
            high=min(high, size + spread),
            shows=self.model.shows(suspect.change(size)),
            chi_square=float(np.sum(np.linalg.solve(factor, self.measured - at(size)) ** 2)),
            score=averaged(left, sizes) + _log_determinant(factor) - self.log_size - 2.0 * math.log(suspect.likely),
            factor=factor,
            sizes=few,
            effects=_between(tried, effects, few),
        )

    def likeliest_pairs(self, fits: Sequence[Fit]) -> list[tuple[float, float, Fit, Fit]]:
        """Two fits for each two kinds that explain the readings best, their effects added up, at sizes to begin with.

        The likeliest first: score on the average of all places and sizes; and what it costs in score that they must be
        just there, of all the places these kinds may be at. The sum is as uncertain as the flow, along itself.
        """
        of = np.concatenate([np.full(len(fit.sizes), number) for number, fit in enumerate(fits)])
        sizes, effects = np.concatenate([fit.sizes for fit in fits]), np.vstack([fit.effects for fit in fits])
        shares = np.concatenate([_shares(fit.sizes) for fit in fits])
        left = self.whiten @ (self.measured - self.nominal)
        inner, along = effects @ effects.T, effects @ left
        sums = np.diag(inner)[:, None] + 2.0 * inner + np.diag(inner)[None, :]
        with_left = along[:, None] + along[None, :]
        squares = left @ left - 2.0 * with_left + sums
        squares -= OFF**2 * (with_left - sums) ** 2 / (1.0 + OFF**2 * sums)
        squares += np.log1p(OFF**2 * sums)
        kinds = np.array([fits[number].suspect.kind for number in of])
        rows = {kind: np.flatnonzero(kinds == kind) for kind in dict.fromkeys(kinds)}
        found = []
        for kind, other in combinations(rows, 2):
            block = squares[np.ix_(rows[kind], rows[other])]
            a, b = np.unravel_index(np.argmin(block), block.shape)
            pair = [(fits[of[at]], float(sizes[at])) for at in (rows[kind][a], rows[other][b])]
            starts = [np.flatnonzero(np.diff(of[rows[one]], prepend=-1)) for one in (kind, other)]
            places = np.minimum.reduceat(np.minimum.reduceat(block, starts[0], axis=0), starts[1], axis=1)
            least = float(block[a, b])
            scarce = -2.0 * math.log(float(np.mean(np.exp((least - places) / 2.0))))
            like = shares[rows[kind]] @ np.exp((least - block) / 2.0) @ shares[rows[other]] / places.size
            one, two = (replace(fit, size=size) for fit, size in pair)
            found.append((least - 2.0 * math.log(float(like)), scarce, one, two))
        return sorted(found, key=lambda pair: pair[0])

    def fit_two(self, one: Fit, other: Fit) -> tuple[Array, float, float]:
        """Two causes at once, from their sizes by themselves: the sizes, chi square and score of both together."""
        both = [one, other]
        low, high = (np.array([fit.suspect.bounds[end] for fit in both]) for end in (0, 1))
        span = np.where(high > low, high - low, 1.0)

        def left(x: Array) -> Array:
            shows = self.model.shows(_both(both, low + x * span), first=self.count)
            return np.asarray(solve_triangular(factor, self.measured - shows[: self.count], lower=True))

        factor = np.tril(self._factor[0])
        sizes = np.array([fit.size for fit in both])
        faint = np.array([fit.sizes[np.argmin(np.sum(fit.effects**2, axis=1))] for fit in both])
        tried = np.array([sizes, [sizes[0], faint[1]], [faint[0], sizes[1]]])  # never worse than either by itself
        start = min(np.clip((tried - low) / span, 0.01, 0.99), key=lambda x: float(np.sum(left(x) ** 2)))
        found = least_squares(left, start, bounds=([0.0, 0.0], [1.0, 1.0]), xtol=1e-3, ftol=1e-3, max_nfev=15)
        sizes = low + found.x * span
        change = _both(both, sizes)
        factor = self.widened(self.model.shows(change), change)
        chi_square = float(np.sum(left(found.x) ** 2))
        slopes = np.eye(2) + found.jac.T @ found.jac / (2.0 * math.pi)  # a size that nothing tells of costs nothing
        penalty = float(np.linalg.slogdet(slopes)[1])
        return sizes, chi_square, chi_square + _log_determinant(factor) - self.log_size + penalty

    def widened(self, shows: Array, change: Change, *, lost: bool = True) -> Array:
        """The factor of the margins with a change's effect as uncertain as the flow, and as what may be lost of it."""
        effect = shows[: self.count] - self.nominal
        covariance = self._read.copy()
        for case in self.model.cases:
            rows = case.rows[case.in_pipe & (case.rows < self.count)]
            own = np.zeros(self.count)
            own[rows] = effect[rows] * OFF
            covariance += np.outer(own, own)
        if lost:
            off = self.model.may_lose(change)[: self.count] / math.sqrt(3.0)  # anything from none to all of it
            covariance += np.outer(off, off)
        if change.swaps:
            columns = wider(self.model, self.ranges, change.swaps).columns[: self.count]
            covariance += columns @ columns.T
        return np.asarray(np.linalg.cholesky(covariance))


def averaged(left: Array, sizes: Array) -> float:
    """-2 ln of how likely the readings are on the average of all sizes, each as likely as the others beforehand.

    left: what each size leaves of the readings, a size to a row, in standard deviations and independent.
    """
    squares = np.sum(left**2, axis=1)
    least = float(np.min(squares))
    return least - 2.0 * math.log(float(_shares(sizes) @ np.exp((least - squares) / 2.0)))


def _shares(sizes: Array) -> Array:
    """Of the range of sizes, the share that each stands for."""
    shares = np.gradient(sizes) if len(sizes) > 1 else np.ones(1)
    return np.asarray(shares / np.sum(shares))


def _both(fits: Sequence[Fit], sizes: Array) -> Change:
    one, other = (fit.suspect.change(float(size)) for fit, size in zip(fits, sizes, strict=True))
    return one.beside(other)


def _between(tried: Array, effects: Array, sizes: Array) -> Array:
    """Effects at sizes, between those that were tried; of a fixed suspect, the one there is."""
    if len(effects) == 1:
        return effects
    return np.asarray(np.sinh(PchipInterpolator(tried, np.arcsinh(effects))(sizes)))


def _spaced(low: float, high: float, count: int) -> Array:
    return np.geomspace(low, high, count) if low > 0.0 else np.linspace(low, high, count)


def _best(left: Callable[[float], Array], size: float, low: float, high: float) -> tuple[float, float]:
    """The size at which least is left, by Gauss and Newton from a size nearby; and how steeply that changes there."""
    edge = SMALL_STEP * (high - low)
    size = min(max(size, low + edge), high - edge)
    at = left(size)
    for _ in range(STEPS):
        slope = (left(size + edge) - at) / edge
        steep = float(slope @ slope)
        if steep == 0.0:
            break
        step = -float(slope @ at) / steep
        for _ in range(HALVINGS):
            new = min(max(size + step, low), high - edge)
            beyond = left(new)
            if beyond @ beyond <= at @ at:
                break
            step /= 4.0
        else:
            break
        done, size, at = abs(new - size) < edge, new, beyond
        if done:
            break
    slope = (left(size + edge) - at) / edge
    return size, float(slope @ slope)


def _log_determinant(factor: Array) -> float:
    return 2.0 * float(np.sum(np.log(np.diag(factor))))
