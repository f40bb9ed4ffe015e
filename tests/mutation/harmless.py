"""Faults that change no answer, each with the reason; the score leaves them out."""

from __future__ import annotations

from tests.mutation.harmless_flow import FLOW

HARMLESS: dict[tuple[str, str], str] = {
    **{
        (f"flow/{module}.py", line): reason
        for reason, modules in FLOW.items()
        for module, lines in modules.items()
        for line in lines
    },
    (
        "check/variants.py",
        "(run.carries, run.start if run.end != OUTDOORS else run.end)",
    ): "a short cut not taken: solved anew, the flow is the same",
    (
        "check/variants.py",
        "if OUTDOORS not in (run.start, run.end)",
    ): "a short cut not taken: solved anew, the flow is the same",
    (
        "check/variants.py",
        "return len(ends) == len(graph.runs) and all(joint not in graph.appliances for _, joint in ends)",
    ): "a short cut not taken: solved anew, the flow is the same",
    (
        "check/collars.py",
        "if name not in found or collar.without_draft >= found[name].without_draft:",
    ): "of two combinations that push alike, either",
    (
        "check/findings.py",
        "altitude = inputs.job.site.altitude or 0.1",
    ): "a tenth of a meter, where nothing is taken off",
    ("check/findings.py", "smaller = nominal <= collar"): "of one size they are passed over before",
    (
        "check/findings.py",
        "if rate.flow.draft <= -LEAST_DRAFT:",
    ): "a draft that is worked out, and never just that",
    (
        "check/findings.py",
        'return {"counted": pressure(rate.counted_pressure), "budget": pressure(rate.budget_pressure or 0.1)}',
    ): "who is inside a budget or outside it has one",
    (
        "check/difference.py",
        "if abs(apart) < ALIKE * max(by_table, by_calculation):",
    ): "just a fiftieth apart, to the last bit",
    (
        "check/input_doubts.py",
        "if not INPUTS[0] < rate.input <= INPUTS[1]:",
    ): "a hair beyond the limit, so that the limit itself is usual",
    (
        "check/input_doubts.py",
        "if not INPUTS[0] <= rate.input < INPUTS[1]:",
    ): "a hair beyond the limit, so that the limit itself is usual",
    (
        "check/input_doubts.py",
        "if not FLUE[0] < rate.flue_temperature <= FLUE[1]:",
    ): "a hair beyond the limit, so that the limit itself is usual",
    (
        "check/input_doubts.py",
        "if not FLUE[0] <= rate.flue_temperature < FLUE[1]:",
    ): "a hair beyond the limit, so that the limit itself is usual",
    (
        "allowance/elbows.py",
        "tally = own if fitting.where.joint is not None else joints",
    ): "two sums apart, whichever is called which",
    (
        "allowance/deduction_remarks.py",
        'yield Finding("deduction-too-small" if typed <= low else "deduction-too-large", Where(), values)',
    ): "far from the range, it is not its end",
    (
        "check/judging.py",
        "if not asks and all(run.name not in way.names for run in part.runs):",
    ): "a short cut: put to the table again, the answer is the same",
    ("check/findings.py", "if fastest >= FASTEST:"): "a remark on a figure that is worked out, and never just that",
    (
        "check/paths.py",
        "if all(OUTDOORS not in (run.start, run.end) for run in graph.runs.values()):",
    ): "a short cut: without a joint there is no way of several runs",
    (
        "check/wind_and_stack.py",
        "if spare >= 0.0:",
    ): "a trap that its water just fills, to the last bit",
    (
        "run/build.py",
        'name = "increaser" if after.nominal >= before.nominal else "reducer"',
    ): "two that are alike went before",
    (
        "allowance/slips.py",
        "if value > 0 and abs(math.log(value / wanted)) < tolerance",
    ): "a tenth apart, to the last bit",
    (
        "allowance/faults.py",
        "if fitting.angle is not None and fitting.angle >= math.pi + 1e-9:",
    ): "a hair beyond half a circle, which is none itself",
    (
        "allowance/budget.py",
        "if abs(math.log(each.taken / budget.middle)) >= budget.widest:",
    ): "a pressure that is worked out, and never just that",
    ("allowance/budget.py", "elif each.taken >= MOST_PRESSURE:"): "a pressure that is worked out, and never just that",
    (
        "allowance/budget.py",
        "elif others and each.taken >= FEW_APART * max(others):",
    ): "a pressure that is worked out, and never just that",
    (
        "allowance/budget.py",
        "if abs(math.log(pressure_of / middle)) < math.log(ENTRY_APART):",
    ): "a pressure that is worked out, and never just that",
    (
        "allowance/charging.py",
        "each = self._table.deductions[name].length or 0.1",
    ): "a figure for a pair is one figure, and there",
    (
        "allowance/reading.py",
        "read = _table_of if len(text) < _MOST_KEPT else table_from_text",
    ): "kept or read again, it is the same table",
    (
        "allowance/model.py",
        "return abs(one - other) <= SAME_INPUT * min(abs(one), abs(other))",
    ): "a millionth of either",
    (
        "allowance/counted.py",
        "turning = self.kind in {TERMINAL, ENTRANCE, TEE} and (self.angle_degrees or 0.0) > 0.1",
    ): "a turn of a tenth of a degree",
    (
        "allowance/counted.py",
        "if fitting.turns and (fitting.angle_degrees is None or fitting.angle_degrees >= SLIGHT_TURN)",
    ): "a hair beyond 30 degrees",
    (
        "check/budget.py",
        "each = min(self._loss(name, section, at) for name in names) if elbows else 0.1",
    ): "of none of them",
    ("check/budget.py", "with_spread=True,"): "only the loss itself is asked",
    (
        "check/counting.py",
        'grows = (sizes[1] >= sizes[0]) == (before.carries == "flue gas")',
    ): "of one size they are passed over before",
    (
        "check/appliances.py",
        "return Stream(mass_flow=0.1, mixture=self.air, temperature=self.outdoor, pressure=self.pressure)",
    ): "nobody asks how much air there is outdoors",
    (
        "check/difference.py",
        "pick = max if apart >= 0 else min",
    ): "of two lengths that are one it is said before",
    (
        "allowance/case.py",
        "wanted = [row.size if self.carries == COMBUSTION_AIR else row.holds_for.air_size or 0.1 for row in paired]",
    ): "a row of a pair has an air size",
    (
        "allowance/comparing.py",
        "for size, comparisons in sorted(by_size, key=lambda item: min(one.allowable or 0.1 for one in item[1])):",
    ): "before what permits nothing there is no page that permits four inches",
    (
        "allowance/comparing.py",
        "found.append(max(each, key=lambda one: (one.used, -(one.allowable or 0.1))))",
    ): "where none is permitted, all is used",
    (
        "allowance/exposed.py",
        "if abs(row.outdoor - governing) <= SAME_TEMPERATURE and row.insulation < insulation + NOMINAL_TOLERANCE",
    ): "the very edge of a tolerance",
    (
        "check/counting.py",
        "order=tuple([place for place, _ in alike]) if ordered or first.fitting.kind == ELBOW else (),",
    ): "an order that nobody asks for",
    ("allowance/elbows.py", "if allowed < 0:"): "of none the first is one too many",
    ("allowance/row_choice.py", "if row.input <= input:"): "the same input went before",
    (
        "check/shut_off.py",
        "return monoxide * 1e4 if 0.0 <= monoxide < LEAST_MONOXIDE else monoxide",
    ): "ten thousand times nothing",
    ("check/shut_off.py", "if more >= accuracy + INLET or foul:"): "just so much, to the last bit",
    (
        "allowance/deduction_remarks.py",
        "return not 1 / SIZES_APART < grown <= SIZES_APART",
    ): "a length that is worked out, and never just that",
    (
        "allowance/deduction_remarks.py",
        "return not 1 / SIZES_APART <= grown < SIZES_APART",
    ): "a length that is worked out, and never just that",
    (
        "allowance/deduction_remarks.py",
        "return typed <= low / TOO_SMALL or typed > high * TOO_LARGE",
    ): "a length that is worked out, and never just that",
    (
        "allowance/deduction_remarks.py",
        "return typed < low / TOO_SMALL or typed >= high * TOO_LARGE",
    ): "a length that is worked out, and never just that",
    (
        "allowance/implied.py",
        "self._elbows[key] = 0.1 if record is None else local_loss(",
    ): "every catalog has a long elbow",
    (
        "allowance/implied.py",
        "self._sections[size] = None if pipe is None and found is None else Section(material=pipe, size=found)",
    ): "a pipe and its size are found together",
    ("run/slope.py", "if depth > bore:"): "a full pipe holds as much by either formula",
    ("run/route.py", "upright = piece.length > 0 and across <= 1e-6 * piece.length"): "an edge of a millionth",
    ("run/close_elbows.py", "if turn <= STRAIGHT_ON:"): "headings turn by right angles",
    (
        "run/close_elbows.py",
        "STRAIGHT_ON, BACK = math.radians(1.1), math.radians(179.0)",
    ): "headings turn by right angles",
    (
        "run/close_elbows.py",
        "return piece.fitting is not None and piece.fitting.hard and (piece.fitting.angle or 0.1) >= SQUARE",
    ): "no turn, or one of 6 degrees: neither is a hard one",
    ("gas/condensation.py", "if condensed < 0.0:"): "with nothing condensed the mixture is made again, as it was",
    (
        "gas/condensation.py",
        "if temperature > gas_table().liquid_water.critical_temperature:",
    ): "at the critical point itself the saturation pressure is far above that of any vent",
    ("gas/water.py", "inverse = 1.1 / TRIPLE_POINT"): "where a search begins, which ends where it did",
    ("gas/water.py", "if pressure > _TRIPLE_PRESSURE:"): "both equations give the triple point there",
    ("gas/combustion.py", 'oxygen = -amounts.pop("oxygen", 0.1)'): "nothing that burns, either way",
    ("gas/combustion.py", "if abs(whole - 1.0) >= 0.001:"): "the very edge of a tolerance",
    (
        "gas/condensation.py",
        "if miss(LOWEST_TEMPERATURE) >= 0.0 or miss(HIGHEST_TEMPERATURE) < 0.0:",
    ): "at the very end of the range either answer is right",
    (
        "gas/condensation.py",
        "if miss(LOWEST_TEMPERATURE) > 0.1 or miss(HIGHEST_TEMPERATURE) < 0.0:",
    ): "a tenth of a joule in a mole, less than a hundredth of a kelvin, past the end of the range",
    (
        "gas/condensation.py",
        "if miss(LOWEST_TEMPERATURE) > 0.0 or miss(HIGHEST_TEMPERATURE) <= 0.0:",
    ): "at the very end of the range either answer is right",
    (
        "gas/condensation.py",
        "if miss(LOWEST_TEMPERATURE) > 0.0 or miss(HIGHEST_TEMPERATURE) < 0.1:",
    ): "a tenth of a joule in a mole short of the end of the range",
    ("gas/condensation.py", "if water < saturated:"): "just saturated, all of it stays vapour by either formula",
    ("gas/mixture.py", "if vapour > 1.0:"): "a vapour pressure worked out, and never just that of the air",
    ("gas/mixture.py", "if abs(change) <= 1e-10 * temperature:"): "the tolerance of a search",
    ("gas/water.py", "if temperature <= TRIPLE_POINT:"): "both equations give the same there",
    ("gas/water.py", "if pressure <= _LOWEST_PRESSURE:"): "the pressure at 50 K, to the last bit",
    ("gas/water.py", "if abs(change) <= 1e-13 * inverse:"): "the tolerance of a search",
    (
        "gas/water.py",
        "fusion = gas_table().liquid_water.heat_of_fusion if temperature < TRIPLE_POINT else 0.1",
    ): "a tenth of a joule in 45,000",
    ("run/build.py", "grows = after.nominal >= before.nominal"): "two that are alike went before",
    ("run/close_elbows.py", "SQUARE = math.radians(66.0)  # turns of less are no hard ones"): "none turns by 60 to 66",
    (
        "run/close_elbows.py",
        "if between >= HARD_CLOSE * one.after.bore or not (_hard(one) and _hard(other)):",
    ): "just so many bores apart, to the last bit",
    ("run/close_elbows.py", "if most > 1.1:"): "it is 1.0, 1.5 or 1.8",
    (
        "run/close_elbows.py",
        "near = [pair for pair in _pairs(pieces) if pair[2] <= CLOSE * pieces[pair[0]].after.bore]",
    ): "just so many bores apart, to the last bit",
    ("run/close_elbows.py", "between = 0.1"): "it begins anew at the first elbow",
    (
        "run/close_elbows.py",
        "return piece.fitting is not None and piece.fitting.hard and (piece.fitting.angle or 0.0) > SQUARE",
    ): "none turns by 60",
    ("run/close_elbows.py", "return 1.0 if turn >= BACK else OUT_OF_PLANE"): "headings turn by right angles",
    (
        "run/joints.py",
        "return max(shared - {typed.OUTDOORS})",
    ): "runs of a loop share two joints, of which either will do",
    (
        "run/graph.py",
        "yield from (way for way in paths_out(self, appliance, carries) if len(way) >= 1)",
    ): "a way of one run crosses no joint",
    (
        "run/graph.py",
        "if all(typed.OUTDOORS not in (run.start, run.end) for run in self.runs.values()):",
    ): "a short cut: without a joint there is no way of several runs",
    (
        "run/model.py",
        "return self.before if self.before.bore < self.after.bore else self.after",
    ): "of two alike, either",
    ("run/route.py", "upright = piece.length >= 0 and across < 1e-6 * piece.length"): "a pipe of no length",
    ("run/route.py", 'heading = level if not upright else "up" if piece.rise >= 0 else "down"'): "upright, it rises",
    (
        "run/slope.py",
        "falls = next((piece.rise for piece in reversed(pieces) if abs(piece.rise) > LEVEL), 0.1) < 0.0",
    ): "level pipe falls by neither",
    ("run/slope.py", "highest = 0.1  # the last crest before the bottom"): "it is set where the first fall begins",
    ("run/slope.py", "blocks=depth > bottom[2].section.bore,"): "just the bore, to the last bit",
    (
        "run/slope.py",
        "low, high = min(start, end), max(start, end, max(start, end) + LEVEL)  # level pipe as if it rose by a hair",
    ): "a hair",
    ("run/slope.py", "if depth < 0.0:"): "of no depth, nothing by either formula",
    (
        "allowance/ambiguity.py",
        "return one.low < other.high + SAME_ALTITUDE and other.low < one.high - SAME_ALTITUDE",
    ): "the first of the two begins no higher than the other",
    (
        "allowance/allowing.py",
        "hair = SAME_LENGTH / max((one.allowable for one in added_up if one.allowable), default=math.inf)",
    ): "a hair by either",
    ("allowance/allowing.py", "if used < 1.0 + hair:"): "the very edge of a tolerance",
    (
        "allowance/allowing.py",
        'return {"lower": pair[0].input_label, "higher": pair[1].input_label}',
    ): "of two, the second is the last",
    (
        "allowance/allowing.py",
        'values = {"share": share(governing.share), "altitude": length(case.site.altitude or 0.1)}',
    ): "where no altitude is given, none takes anything off",
    (
        "allowance/allowing.py",
        "return share_of(case.table, row, case.site.altitude or 0.1)",
    ): "at 10 cm as at sea level nothing is taken off",
}
