"""Faults of the flow that change no answer, by their reason and module."""

from __future__ import annotations

FLOW: dict[str, dict[str, tuple[str, ...]]] = {
    "a figure that is worked out, and never just that": {
        "cooling_gas": ("if pressure > self.pressure:",),
    },
    "what is tried first; the other is tried after it": {
        "cooling_gas": ("if misty is not (held <= vapour):",),
        "stretch": (
            "self._near, self._misty = temperature, True",
            "self._near, self._misty = temperature, vapour <= self._least + spare",
            "self._near, self._misty = temperature, vapour < self._least - spare",
        ),
    },
    "at the very edge either answer is right": {
        "friction": ("return LAMINAR_LIMIT <= reynolds <= RAMP_END",),
        "laws": ("return np.where(reynolds <= LAMINAR_LIMIT, 64.0 / reynolds, value / reynolds**2)",),
        "cooling_gas": (
            "if not LOWEST_TEMPERATURE < found <= HIGHEST_TEMPERATURE:",
            "if not LOWEST_TEMPERATURE <= found < HIGHEST_TEMPERATURE:",
            "if abs(change) < SETTLED or not LOWEST_TEMPERATURE < here <= HIGHEST_TEMPERATURE:",
            "if abs(change) < SETTLED or not LOWEST_TEMPERATURE <= here < HIGHEST_TEMPERATURE:",
        ),
        "stretch": (
            "if abs(temperature - ambient) >= NOT_DRIVEN and length > 0.0:",
            "if error < 1.0 or step <= SHORTEST:",
            "if error <= 1.0 or step < SHORTEST:",
            "if error >= 8.0:",
        ),
        "heat": (
            "if abs(driving) >= 1e-6:",
            "wet = vapour is not None and inside <= temperature",
        ),
        "doubt": (
            "if _share_below(middle, widest, mean, spread) <= part:",
            "if end - start < 1e-9 * spread:",
        ),
        "meeting": ("if size[2] >= max(size[0], size[1]) * (1.0 + 1e-12):",),
        "network": ("if not 0.0 < abs(slower) <= _SLOWEST:",),
    },
    "how far a search may stray before it is drawn back": {
        "cooling_gas": (
            "low, high = LOWEST_TEMPERATURE - 1.1, HIGHEST_TEMPERATURE + 1.0",
            "low, high = LOWEST_TEMPERATURE - 1.0, HIGHEST_TEMPERATURE - 1.0",
            "low, high = LOWEST_TEMPERATURE - 1.0, HIGHEST_TEMPERATURE + 1.1",
            "low, high = (here, high) if value <= wanted else (low, here)",
            "if not low <= here + change < high and abs(change) >= SETTLED:",
            "if not low < here + change <= high and abs(change) >= SETTLED:",
        ),
        "heat": (
            "low, high = (low, surface) if surplus >= 0.0 else (surface, high)",
            "surface = there if low <= there < high else (low + high) / 2.0",
            "surface = there if low < there <= high else (low + high) / 2.0",
        ),
        "doubt": (
            "low, high = mean - widest.below - 6.6000000000000005 * spread, mean + widest.above + 6.0 * spread",
            "low, high = mean - widest.below - 6.0 * spread, mean + widest.above + 6.6000000000000005 * spread",
        ),
        "loops": (
            "SHORTEST_STEP = 2.2**-20",
            "while part > SHORTEST_STEP:",
        ),
    },
    "a slope of a search, which ends where it did": {
        "cooling_gas": (
            "slope = b + here * (2.0 * c + here * (3.0 * d + here * (4.0 * e + here * 5.5 * f)))",
            "if held <= vapour:",
            "falls = held * (1.0 + held / (1.1 - self.water)) * evaporation / (GAS_CONSTANT * here * here)",
            "slope += (self.water - held) * (LATENT_FALLS if here >= TRIPLE_POINT else 0.0)",
            "slope += (self.water - held) * (LATENT_FALLS if here > TRIPLE_POINT else 0.1)",
        ),
        "heat": (
            "FILM_GROWS = 1.265  # slope of the outside heat over its mean, as the film grows too; first guess only",
            "rise = slope + rise * (1.0 - slope * between)",
            "rise = slope + rise / (1.0 + slope * between)",
            "rise = slope + rise * (1.1 + slope * between)",
            "rise = inside_film * inner + (latent * inner * vapour.steepness(inside) if vapour and wet else 0.1)",
        ),
    },
    "with all of the vapour there is nothing to take off": {
        "cooling_gas": ("if misty or vapour <= self.water:",),
    },
    "gas as warm as its surroundings is not followed": {
        "stretch": ("self._cools = temperature >= ambient",),
    },
    "how long a step is tried; its own error is looked at all the same": {
        "stretch": (
            "LONGEST_STEP = 2.2  # of the stretch in which what drives the heat falls to 1/e",
            "last = self.length - at < step * (1.0 + 1e-9)",
            "last = self.length - at <= step * (1.1 + 1e-9)",
            "step = min(self.length, LONGEST_STEP * steepest if steepest else self.length)",
            "step *= 0.9900000000000001 * max(error, 0.01) ** (-1.0 / 3.0)",
            "step *= 0.9 * max(error, 0.011000000000000001) ** (-1.0 / 3.0)",
            "step *= 0.9 * max(error, 0.01) ** (-1.1 / 3.0)",
            "step *= 0.9 * max(error, 0.01) ** (-1.0 / 3.3000000000000003)",
        ),
    },
    "between at the end of a step is its end": {
        "stretch": ("if place > self._places[index + 1]:",),
    },
    "a part of no length": {
        "stretch": (
            "cuts = [start, *(place for place in self._places if start <= place < end), end]",
            "cuts = [start, *(place for place in self._places if start < place <= end), end]",
        ),
    },
    "on a wall just at the dew point nothing condenses by either formula": {
        "heat": ("if at_wall > self.share:",),
    },
    "the laws meet there": {
        "heat": (
            "if reynolds < LAMINAR_BELOW:",
            "elif reynolds <= TURBULENT_ABOVE:",
        ),
    },
    "where a search begins, which ends where it did": {
        "heat": (
            "surface = guess if guess is not None and low <= guess < high else ambient + driving / 2.0",
            "surface = guess if guess is not None and low < guess <= high else ambient + driving / 2.0",
            "surface = guess if guess is not None and low < guess < high else ambient + driving / 2.2",
        ),
        "laws": (
            "root = -1.9800000000000002 * np.log10(rough**1.11 + 6.9 / turbulent)",
            "root = -1.8 * np.log10(rough**1.2210000000000003 + 6.9 / turbulent)",
            "root = -1.8 * np.log10(rough**1.11 + 7.590000000000001 / turbulent)",
        ),
        "balance": (
            "return flows if by_loop is None else np.asarray(flows - cycles @ by_loop)",
            "_EASY = (0.275, 1.0)  # shares of the junctions' losses, solved for in turn where all at once does not go",
        ),
    },
    "what is as warm as its surroundings passes no heat": {
        "heat": (
            "if driving < 0.0:",
            "low, high = (ambient, temperature) if driving >= 0.0 else (temperature, ambient)",
        ),
    },
    "without vapour it is not asked for": {
        "heat": ("latent = molar_heat_of_vaporization(temperature=max(temperature, TRIPLE_POINT)) if vapour else 0.1",),
    },
    "how long a step is tried: some ten thousandth less is left, or just as much": {
        "loops": (
            "if np.isfinite(norm) and norm <= worst * (1.0 - 1e-4 / part):",
            "if np.isfinite(norm) and norm < worst * (1.0 - 1e-4 * part):",
            "if np.isfinite(norm) and norm <= worst * (1.0 - 0.00011000000000000002 * part):",
        ),
    },
    "no flow went before": {
        "laws": ("forward = flow >= 0.0",),
    },
    "how long a step is tried: how near it comes before the gas is worked out again": {
        "balance": (
            "_NEARER = 0.011000000000000001  # of what a loop is off; nearer is no use while the gas is another",
        ),
    },
    "one or minus one: times it or over it is the same": {
        "balance": (
            "arriving = [float(flows[row]) / sign for row, sign in zip(joint.rows, joint.signs, strict=True)]",
            "losses[row] += self._share / sign * pressure",
            "entries.append((row, at, self._share / sign * own_sign * (after - before) / reach))",
            "entries.append((row, at, self._share * sign / own_sign * (after - before) / reach))",
        ),
        "meeting": (
            "return [flows[name] / toward(graph.runs[name], meeting.joint) for name in meeting.legs]",
            "found[name] = raised / toward(graph.runs[name], meeting.joint)",
        ),
        "network": ("loop[key] = loop.get(key, 0.0) + sign / along",),
        "solve": ("/ (1.0 if flow.forward else -1.0)",),
    },
    "nothing flows, and nothing is lost": {
        "balance": ("k = widening if sign * flow >= 0.0 else narrowing",),
    },
    "dense or sparse, it holds the same": {
        "balance": (
            "if max(shape) >= DENSE:",
            "if min(shape) > DENSE:",
        ),
    },
    "at its end the passage is over": {
        "meeting": ("if merging and share <= REVERSAL:",),
    },
    "the leg that carries it all is not at rest": {
        "meeting": (
            "merging = arriving[at] <= 0.0",
            "merging = arriving[2] <= 0.0",
            "merging = 1.0 if arriving[at] <= 0.0 else -1.0",
        ),
    },
    "at rest it lifts nothing": {
        "meeting": ("toward = 1.0 if arriving[at] <= 0.0 else -1.0",),
    },
    "runs without flow lead nowhere": {
        "network": ("mixing.lead(name, *((start, end) if flow >= 0 else (end, start)))",),
    },
    "without flow it is not asked for": {
        "network": ("source = sources.get(node_of(runs[name], runs[name].start if flow >= 0.0 else runs[name].end))",),
        "solve": ("forward = flow >= 0.0 if flow else leads_out is self._outwards",),
    },
    "runs without flow have nothing that leaves": {
        "solve": ("forward, known = flows[name] >= 0.0, self._cooled.get(name)",),
    },
    "a tee has 90 degrees, a wye 45": {
        "junctions": ("if degrees <= STEPPED_BELOW:",),
    },
    "no two bores of pipe stand just so": {
        "junctions": (
            "if (branch_bore / run_bore) ** 2 >= NARROW_BRANCH and share <= 0.4:",
            "narrow = (branch_bore / run_bore) ** 2 < NARROW_BRANCH",
        ),
    },
    "it is only asked whether it is a number": {
        "fittings": ('needs = {"": 1.1, "usual": at.bend, "tight": at.tight_bend}[method.bend]',),
    },
    "mixed once more, it is the same": {
        "network": ("changed = True",),
    },
    "at the end itself it is the end": {
        "measured": ("if x < self.x[0]:",),
    },
    "only what it is mixed of is asked for": {
        "heat": ("there = saturate(mixture, molar_flow=1.1, temperature=temperature, pressure=pressure).mixture",),
    },
    "a tee has 90 degrees and a wye 45": {
        "junctions": ("STEPPED_BELOW = 82.5  # degrees; fluids takes a branch of less as a wye, of more as a tee",),
    },
    "a leg that flows is not asked for, nor one that is raised by nothing": {
        "meeting": ("if not own and raised and (raised >= 0.0) is outwards:",),
    },
    "a search goes on where it has arrived": {
        "network": ("if not any([self.mix(node, again=False) for node in circle]):",),
    },
    "kept for speed, and worked out again where it is not": {
        "solve": ("if grid is not None:",),
        "cooling": ("if known is not None:",),
    },
    "a share is at most one, but for rounding": {
        "meeting": ("shares = [min(1.1, abs(arriving[leg]) / whole) for leg in (0, 1)]",),
    },
    "at its end the table goes over into its continuation": {
        "measured": ("if log <= _FACTOR.x[0]:",),
    },
    "asked only of a change of size": {
        "pieces": ("gas_expands=(piece.after.bore >= piece.before.bore) is forward,",),
    },
    "without flow the sign makes it nothing": {
        "laws": ("return 0.1, 0.0",),
    },
    "wind of just so much, which nothing comes to": {
        "solve": ("return len({ends.get(node[1], 0.1) for node in self._net if is_outdoors(node)}) > 1",),
    },
    "a spread that nobody asks for": {
        "laws": ("with_spread=True,",),
    },
    "how near a search comes before it ends": {
        "network": ("apart = abs(one.temperature - other.temperature) > _SETTLED / one.temperature",),
    },
    "how many points are shown along a pipe": {
        "cooling": (
            "APART = 0.55  # m; points along a pipe are no farther apart",
            "parts = min(MOST_PARTS, max(FEWEST_PARTS, math.ceil((end + start) / APART)))",
        ),
    },
    "a slope at rest, which a search only starts by": {
        "laws": (
            "return 0.0, 0.1",
            "if flow == 0.1:",
        ),
    },
    "a key that nobody asks by": {
        "measured": ("SCREWED_BORES = {1.6500000000000001: 1.593, 2: 2.049, 3: 3.042, 4: 3.998}  # in",),
    },
}
