"""The working of what a gas is: molar mass, density, viscosity, saturation pressure, dew point."""

from __future__ import annotations

from ventsize.flow.stream import Stream
from ventsize.gas.components import GAS_CONSTANT, Correlation, gas
from ventsize.gas.condensation import dew_point, saturation_pressure
from ventsize.gas.mixture import Mixture, molar_mass, viscosity
from ventsize.gas.water import TRIPLE_POINT
from ventsize.quantity.board import Kind
from ventsize.studies.working.steps import Given, Part, Step, line, weighted

# IAPWS R7-97(2012), table 34: n1 to n10 of its equations 30 and 31.
SATURATION = (
    0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5, -0.32325550322333e7,
    0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3,
)  # fmt: skip
_IAPWS = "IAPWS R7-97(2012), over liquid water"
_N = tuple(Given(f"its number {n}", f"n[{n}]", value, source=_IAPWS) for n, value in enumerate(SATURATION, start=1))
_MEGAPASCAL = Given("one megapascal", "p[1]", 1e6, Kind.ABSOLUTE_PRESSURE, "the unit of that equation")


def share_of_gas(name: str, fraction: float) -> Given:
    """A gas's part of a mixture, by mole."""
    return Given(f"share of {name}", f"x[{gas(name).formula}]", fraction, source="composition, by mole")


def molar_mass_of(name: str) -> Given:
    """A gas's molar mass."""
    return Given(f"molar mass of {name}", f"M[{gas(name).formula}]", gas(name).molar_mass, Kind.MOLAR_MASS, "its atoms")


def molar_mass_step(mixture: Mixture, *, name: str, symbol: str) -> Step:
    """The molar mass of a gas from its composition."""
    parts = [(share_of_gas(one, x), molar_mass_of(one)) for one, x in mixture.mole_fractions]
    return weighted(name, symbol, parts, value=molar_mass(mixture), kind=Kind.MOLAR_MASS, source="mixture of gases",
                    part="gas")  # fmt: skip


def stream_steps(stream: Stream, mark: str, where: str, *, warmth: str) -> list[Step]:
    """Density, viscosity and dew point of a stream, with what makes them: the first two by ρ and µ with the mark.

    mark: what the symbols end in, such as "[4]". where: what the names end in. warmth: where its temperature is from.
    """
    pressure = Given("pressure of the air", "p", stream.pressure, Kind.ABSOLUTE_PRESSURE, "altitude")
    warm = Given(f"temperature of the gas{where}", f"T{mark}", stream.temperature, Kind.TEMPERATURE, warmth)
    molar = molar_mass_step(stream.mixture, name=f"molar mass of the gas{where}", symbol=f"M{mark}")
    constant = Given("gas constant", "R", GAS_CONSTANT, Kind.GAS_CONSTANT, "CODATA 2018")
    density = line(f"density{where}", f"ρ{mark}", "{0} * {1} / ({2} * {3})", pressure, molar.result, constant, warm,
                   powers=(1, 1, -1, -1), value=stream.density, kind=Kind.DENSITY, source="ideal gas",
                   part="gas")  # fmt: skip
    kelvins = kelvins_step(warm, f"t{mark}", f"temperature in kelvin{where}")
    singles = [_viscosity_of(name, kelvins.result, mark, where) for name, _ in stream.mixture.mole_fractions]
    return [molar, density, kelvins, *singles, _mixed(stream, singles, mark, where),
            *_dew_point(stream, pressure, mark, where)]  # fmt: skip


def kelvins_step(warm: Given, symbol: str, name: str, part: Part = "gas") -> Step:
    """A temperature as the plain number of its kelvins, which fitted equations take."""
    return line(name, symbol, "{0}", warm, powers=(1,), value=warm.value, source="a plain number", part=part)


def _viscosity_of(name: str, kelvins: Given, mark: str, where: str) -> Step:
    fitted = gas(name).viscosity
    assert isinstance(fitted, Correlation)
    formula, source = gas(name).formula, "table 2-312"
    a, *others = fitted.coefficients
    letters = zip("BCD", others, strict=False)
    first = Given(f"A of {name}", f"A[{formula}]", a, Kind.VISCOSITY, source)
    rest = [Given(f"{letter} of {name}", f"{letter}[{formula}]", value, source=source) for letter, value in letters]
    below = ("", "", " / (1 + {3} / {1})", " / (1 + {3} / {1} + {4} / {1}^2)")[len(rest)]
    value = viscosity(Mixture(((name, 1.0),)), temperature=kelvins.value)
    return line(f"viscosity of {name}{where}", _marked(f"µ[{formula}]", mark), "{0} * {1}^{2}" + below, first, kelvins,
                *rest, value=value, kind=Kind.VISCOSITY, source="Perry's 8th ed.", part="gas")  # fmt: skip


def _mixed(stream: Stream, singles: list[Step], mark: str, where: str) -> Step:
    """Herning and Zipperer's rule: each gas counts by its share and the root of its molar mass."""
    inputs, above, below = [], [], []
    for at, ((name, x), single) in enumerate(zip(stream.mixture.mole_fractions, singles, strict=True)):
        inputs += [share_of_gas(name, x), molar_mass_of(name), single.result]
        weight = f"{{{3 * at}}} * sqrt({{{3 * at + 1}}})"
        above.append(f"{weight} * {{{3 * at + 2}}}")
        below.append(weight)
    return line(f"viscosity{where}", f"µ{mark}", f"({' + '.join(above)}) / ({' + '.join(below)})", *inputs,
                value=stream.viscosity, kind=Kind.VISCOSITY, source="Herning and Zipperer 1936",
                part="gas")  # fmt: skip


def _marked(symbol: str, mark: str) -> str:
    """A symbol that has an index, with another: x[CO2] and [4] give x[CO2,4]."""
    return f"{symbol[:-1]},{mark[1:]}" if mark else symbol


def saturation_steps(warm: Given, mark: str) -> list[Step]:
    """The saturation pressure of water at a temperature, the last step; none where it is ice."""
    if warm.value < TRIPLE_POINT:
        return []
    part: Part = "combustion"
    kelvins = kelvins_step(warm, f"t{mark}", "temperature in kelvin", part)
    t = kelvins.value
    n = SATURATION
    z = t + n[8] / (t - n[9])
    parts = (z * z + n[0] * z + n[1], n[2] * z * z + n[3] * z + n[4], n[5] * z * z + n[6] * z + n[7])
    changed = line("temperature as the equation takes it", "z", "{0} + {1} / ({0} - {2})", kelvins.result, _N[8], _N[9],
                   value=z, source=_IAPWS, part=part)  # fmt: skip
    first = line("its first part", "a", "{0}^2 + {1} * {0} + {2}", changed.result, *_N[:2], value=parts[0],
                 source=_IAPWS, part=part)  # fmt: skip
    more = [line(f"its {which} part", symbol, "{1} * {0}^2 + {2} * {0} + {3}", changed.result, *_N[at : at + 3],
                 value=value, source=_IAPWS, part=part)
            for which, symbol, at, value in (("second", "b", 2, parts[1]), ("third", "c", 5, parts[2]))]  # fmt: skip
    a, b, c = (step.result for step in (first, *more))
    pressure = line("saturation pressure", "p[sat]", "{0} * (2 * {3} / (sqrt({2}^2 - 4 * {1} * {3}) - {2}))^4",
                    _MEGAPASCAL, a, b, c, value=saturation_pressure(temperature=t), kind=Kind.ABSOLUTE_PRESSURE,
                    source=_IAPWS, part=part)  # fmt: skip
    return [kelvins, changed, first, *more, pressure]


def _dew_point(stream: Stream, pressure: Given, mark: str, where: str) -> list[Step]:
    """The dew point of a stream, the last step; none of a gas without water or whose water would leave as frost."""
    water = stream.mixture.fraction("water")
    dew = dew_point(stream.mixture, pressure=stream.pressure)
    if dew < TRIPLE_POINT:
        return []
    vapor = line(f"pressure of the water vapor{where}", _marked("p[H2O]", mark), "{0} * {1}",
                 share_of_gas("water", water), pressure, powers=(0, 1), value=water * stream.pressure,
                 kind=Kind.ABSOLUTE_PRESSURE, source="its share of the pressure", part="gas")  # fmt: skip
    n = SATURATION
    u = (vapor.value / 1e6) ** 0.25
    parts = (u * u + n[2] * u + n[5], n[0] * u * u + n[3] * u + n[6], n[1] * u * u + n[4] * u + n[7])
    root = line(f"its fourth root{where}", f"u{mark}", "({0} / {1})^0.25", vapor.result, _MEGAPASCAL, value=u,
                source=_IAPWS, part="gas")  # fmt: skip
    first = line(f"first part at the dew point{where}", f"e{mark}", "{0}^2 + {1} * {0} + {2}", root.result, _N[2],
                 _N[5], value=parts[0], source=_IAPWS, part="gas")  # fmt: skip
    more = [line(f"{which} part at the dew point{where}", f"{symbol}{mark}", "{1} * {0}^2 + {2} * {0} + {3}",
                 root.result, _N[at], _N[at + 3], _N[at + 6], value=value, source=_IAPWS, part="gas")
            for which, symbol, at, value in (("second", "h", 0, parts[1]), ("third", "g", 1, parts[2]))]  # fmt: skip
    e, f, g = (step.result for step in (first, *more))
    d = 2.0 * g.value / (-f.value - (f.value * f.value - 4.0 * e.value * g.value) ** 0.5)
    joined = line(f"the three together{where}", f"d{mark}", "2 * {2} / (0 - {1} - sqrt({1}^2 - 4 * {0} * {2}))", e, f,
                  g, value=d, source=_IAPWS, part="gas")  # fmt: skip
    kelvins = line(f"kelvins of the dew point{where}", _marked("t[dew]", mark),
                   "({2} + {0} - sqrt(({2} + {0})^2 - 4 * ({1} + {2} * {0}))) / 2", joined.result, _N[8], _N[9],
                   value=dew, source=_IAPWS, part="gas")  # fmt: skip
    found = line(f"dew point{where}", _marked("T[dew]", mark), "{0}", kelvins.result, powers=(1,), value=dew,
                 kind=Kind.TEMPERATURE, source="the same as a temperature", part="gas")  # fmt: skip
    return [vapor, root, first, *more, joined, kelvins, found]
