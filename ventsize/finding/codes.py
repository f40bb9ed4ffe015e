"""Every finding there is, and how severe it is. The one registry; no words.

stop: a pass is wrong or must not be acted on. doubt: a pass may be wrong. note: worth knowing.
evidence: the reason of a condition (`finding.conditions`); never listed by itself beside a result.
"""

from __future__ import annotations

from typing import Literal

Severity = Literal["stop", "doubt", "note", "evidence"]


def _of(severity: Severity, codes: str) -> dict[str, Severity]:
    return dict.fromkeys(codes.split(), severity)


TABLE: dict[str, Severity] = {
    **_of(
        "evidence",
        """
        altitude-in-table altitude-missing altitude-not-in-table counted-apart counted-with-its-table
        elbows-not-limited elbows-not-listed elbows-not-permitted elbows-within-limit end-not-listed
        fittings-in-table gas-in-table gas-not-in-table input-in-table input-not-in-table
        length-enough length-over length-short length-within no-deduction no-deduction-at-size no-minimum
        no-pipe-permitted no-table-applies no-table-named nothing-to-look-up several-tables-apply size-in-table
        size-not-in-table table-named too-many-elbows way-length-unknown way-not-permitted way-over way-short
        way-within
        """,
    ),
    **_of(
        "note",
        """
        counted-without input-between-rows length-from-job mixed-sizes
        """,
    ),
}
"""Of the allowance table and its look-up."""

PAGE: dict[str, Severity] = {
    **_of(
        "evidence",
        """
        altitude-confirmed altitude-needs-no-word altitude-not-confirmed case-not-said design-outdoor-missing
        difference-over difference-within exposed-not-in-table exposed-over exposed-within footnotes-confirmed
        footnotes-open input-elsewhere-in-table level-not-laid-out level-not-said level-over level-within
        no-row-for-case nothing-exposed nothing-left-at-altitude one-pipe other-pipe-not-known pressure-not-known
        pressure-not-length pressure-over pressure-uncertain pressure-within rise-not-laid-out rise-not-said rise-over
        rise-within row-for-case shares-over shares-within sizes-alike sizes-differ surroundings-not-said
        """,
    ),
    **_of(
        "doubt",
        """
        deduction-below-easier deduction-leaps deduction-too-large deduction-too-small longer-at-higher-altitude
        longer-at-larger-input longer-in-smaller-size material-counts-less more-with-more-elbows row-above-any-house
        row-pressure-unlikely
        """,
    ),
    **_of(
        "note",
        """
        altitude-factor-applied deduction-misses-sizes mixed-sizes-shared name-not-known no-deductions
        row-pressure-not-known usual-deductions-missing
        """,
    ),
}
"""Of what a page asks for beside the length, and of what in it looks mistyped."""

RUN: dict[str, Severity] = {
    **_of("evidence", "lengths-measured no-straight-pipe pipe-without-length turn-not-made turns-made"),
    **_of("doubt", "hard-elbows-close"),
    **_of("note", "elbows-close open-end-implied size-change-implied"),
}
"""Of the layout of runs: turns, ends, lengths."""

FLOW: dict[str, Severity] = {
    **_of(
        "doubt",
        """
        air-pipe-blows-out flow-not-found gas-circulates junction-loss-left-out loss-at-collar-left-out
        outdoor-air-enters-vent rough-beyond-data runs-in-line-differ
        """,
    ),
    **_of(
        "note",
        """
        branch-wider-than-run few-tests flow-in-friction-step head-on-junction laminar-fitting
        size-change-at-joint transition-flow
        """,
    ),
}
"""Of the calculation: correlations, convergence, junctions."""

CHECK: dict[str, Severity] = {
    **_of("stop", "backflow gas-too-hot trap-blows-out water-closes-pipe"),
    **_of(
        "evidence",
        """
        air-by-pipe air-contradicts air-from-room air-not-said air-run-missing air-taken-from-room backflow-not-known
        backflow-stopped bore-not-of-size cannot-be-built condition-not-looked-at fall-not-known flow-found
        flue-gas-led-out gas-below-limit gas-has-several-ways gas-has-one-way gas-limit-not-given inside-envelope
        lengths-agree lengths-differ-by-draft lengths-differ-by-fitting lengths-differ-by-pipe loss-too-large
        no-backflow no-condensate no-flow-found no-pressure-found no-vent no-water-seal nothing-says-shut-off
        too-fast too-many-ways trap-holds trap-not-judged trap-not-stated unit-of-reading ways-counted
        """,
    ),
    **_of(
        "doubt",
        """
        fast-gas limit-not-known over-by-calculation pipe-smaller-than-collar shared-vent-under-pressure
        trap-margin-small unusual-altitude unusual-bore unusual-flue-temperature unusual-input unusual-length
        unusual-pipe water-narrows-pipe
        """,
    ),
    **_of(
        "note",
        """
        air-taken-as-from-room altitude-not-given combinations-left-out cooling-followed derating-not-applied
        draft-hinders ends-not-counted heated-space-assumed indoor-assumed little-wind-at-collar little-wind-at-trap
        loss-from-job one-temperature outdoor-assumed pipe-larger-than-collar readings-not-asked rise-not-known
        room-air-as-outdoors room-air-not-judged room-pressure-not-counted shared-vent space-assumed
        still-air-assumed trap-seal-not-stated wind-not-counted within-by-calculation worst-combination
        """,
    ),
}
"""Of the job as a whole: safety, limits, what was assumed."""

STUDY: dict[str, Severity] = {
    # takeoff: what could not be taken off
    "takeoff-pipe-changes": "doubt",
    "takeoff-junction": "doubt",
    "takeoff-junction-sizes": "doubt",
    "takeoff-opening": "doubt",
    "takeoff-no-stock": "doubt",
    "takeoff-no-room": "doubt",
    "takeoff-not-joinable": "doubt",
    "takeoff-no-supports": "doubt",
    "takeoff-counted": "doubt",
    # takeoff: what it goes by
    "takeoff-implied": "note",
    "takeoff-tee": "note",
    "takeoff-kit": "note",
    "takeoff-cement": "note",
    "takeoff-tight": "note",
    "takeoff-close": "note",
    "takeoff-sockets": "note",
    "takeoff-couplings": "note",
    "takeoff-reach": "note",
    "takeoff-reach-estimated": "note",
    # a lesson as its teacher wrote it
    "lesson-never-wrong": "doubt",
    "lesson-never-right": "doubt",
    "lesson-nearly-alike": "doubt",
    "lesson-out-of-reach": "doubt",
    "lesson-on-the-edge": "doubt",
    "lesson-too-close": "doubt",
    "lesson-asked-twice": "doubt",
    "lesson-no-notes": "note",
    # comparing: what another job has otherwise
    **_of(
        "evidence",
        """
        differs-added differs-altitude differs-carbon-dioxide differs-cooled differs-divided differs-excess-air
        differs-exchanged differs-fewer differs-flue-temperature differs-fuel differs-gone differs-humidity
        differs-indoor differs-input differs-k differs-longer differs-material differs-more differs-more-of
        differs-none differs-not-cooled differs-order differs-outdoor differs-oxygen differs-shorter differs-size
        differs-table differs-two-for-each
        """,
    ),
    # repairs: what is changed
    **_of(
        "evidence",
        """
        change-end-before-turn change-end-nearer change-exchange change-fewer change-offset-out change-offset-slant
        change-shorten change-size change-size-from change-slants-counted
        """,
    ),
}
"""Of the studies beside the verdict."""

APPLIANCE: dict[str, Severity] = {
    **_of("stop", "fan-short-of-air"),
    **_of(
        "doubt",
        """
        bench-burns-outside-table bench-little-air fan-cannot-hold fan-curve-misses-flow fan-meets-beyond-curve
        fan-over-top-speed fan-switch-opens fan-too-much-air ice-at-terminal pipe-falls-away pipe-falls-too-little
        pipe-may-sweat pipe-sweats start-switch-stays-open wall-freezes wall-may-freeze
        """,
    ),
    **_of(
        "note",
        """
        bench-adapts bench-air-at-switch bench-burns bench-by-table bench-find-out-why bench-goes-out bench-loses-air
        bench-never-burns bench-no-permit bench-one-fan bench-one-rate-out bench-table-allows excess-air-not-as-stated
        fan-curve-example fan-density-not-said fan-draft-left-out fan-pressure-not-said inducer-relearns
        moist-gas-freezes rise-not-given room-humidity-assumed spaces-as-cold start-burns start-keeps start-learns
        start-old-speed start-power-cut start-power-returns start-purge start-satisfied start-switch-closes
        start-switch-proved-open switch-opening-not-said trap-seal-to-measure water-runs-out
        """,
    ),
}
"""Of fan, switch and burner, of cold weather and of water."""

FIELD: dict[str, Severity] = {
    # a pressure switch beside its setting
    "switch-below-setting": "doubt",
    "switch-near-setting": "doubt",
    "switch-above-setting": "evidence",
    # readings that cannot be compared
    "no-switch-setting": "evidence",
    "not-cooled": "evidence",
    "example-inducer": "evidence",
    "no-fan-curve": "evidence",
    "beyond-fan-curve": "evidence",
    # readings that cannot be right
    "pressure-beyond-appliance": "doubt",
    "switch-hoses-exchanged": "doubt",
    "air-pipe-under-pressure": "doubt",
    "vent-under-suction": "doubt",
    "oxygen-above-air": "doubt",
    "oxygen-of-air": "doubt",
    "carbon-dioxide-beyond-fuel": "doubt",
    "carbon-dioxide-of-air": "doubt",
    "gases-contradict": "doubt",
    "temperature-not-of-flue-gas": "doubt",
    "speed-above-top": "doubt",
    "gases-exchanged": "doubt",
    "lower-at-higher-rate": "doubt",
    "higher-farther-out": "doubt",
    # readings that were probably meant otherwise; perhaps: still a reading
    "probably-another-unit": "doubt",
    "probably-decimal-point": "doubt",
    "probably-another-dial": "doubt",
    "probably-minutes": "doubt",
    "perhaps-another-unit": "doubt",
    "perhaps-decimal-point": "doubt",
    # shut it off, before anything else
    "co-in-room-leave": "stop",
    "co-alarm": "stop",
    "co-in-room": "stop",
    "flue-gas-in-room": "stop",
    "co-in-flue": "stop",
    "vent-too-hot": "stop",
    "oxygen-near-zero": "stop",
    "flue-gas-in-inlet": "stop",
    "switch-closed-below-setting": "stop",
    "not-read-again": "stop",
    "co-in-flue-high": "doubt",
    "co-air-free-assumed": "note",
    # readings kept aside
    "before-repair": "evidence",
    "manometer-zero": "evidence",
    "rate-not-in-job": "evidence",
    "no-meter-dial": "evidence",
    # what is seen
    "seen-switch-open": "doubt",
    "seen-switch-closed": "note",
    "seen-switch-chatters": "doubt",
    "seen-trips-now-and-then": "doubt",
    "seen-trips-before-ignition": "doubt",
    "seen-trips-after-ignition": "doubt",
    "seen-trips-at-the-change-to-high-fire": "doubt",
    "seen-trips-when-warm": "doubt",
    "seen-trips-in-wind": "doubt",
    "seen-flame-goes-out": "doubt",
    "seen-rumbles-or-howls": "doubt",
    "seen-gurgles": "doubt",
    "seen-loud-after-a-power-cut": "doubt",
    "seen-flue-gas-in-the-room": "doubt",
    "seen-carbon-monoxide-alarm-sounds": "doubt",
    "seen-length-and-fittings-are-right": "note",
    "seen-pipe-size-is-right": "note",
    "seen-no-water-in-the-vent": "note",
    "seen-vent-is-clear-inside": "note",
    "seen-terminal-is-clear": "note",
    "seen-air-pipe-is-clear": "note",
    "seen-no-joint-leaks": "note",
    "seen-switch-tubing-is-clear": "note",
    "seen-room-pressure-is-right": "note",
    "seen-no-wind-at-the-ends": "note",
    "seen-gas-input-is-right": "note",
    "seen-no-flue-gas-at-the-inlet": "note",
    "seen-exchanger-and-inducer-are-clean": "note",
    "switch-open-above-setting": "doubt",
    # assumed, and to be kept in mind
    "accuracy-assumed": "note",
    "weather-assumed": "note",
    "inducer-example-not-judged-by": "note",
    "inducer-not-described": "note",
    "inducers-of-several": "note",
    "fixed-speed-flow": "note",
    "fixed-speed-not-found": "note",
    "vent-fault-kills": "note",
    "room-may-spill": "doubt",
    "leaks-hardly-show": "note",
    "read-when-steady": "note",
    "close-holes": "note",
    "inducer-learns-again": "note",
    "rise-not-told": "note",
    "gas-divides": "note",
    "collar-tells-little": "note",
    # what readings say on the whole
    "readings-off": "evidence",
    "readings-off-beside-the-pipe": "evidence",
    "readings-off-together": "evidence",
    "readings-cannot-be-right": "evidence",
    "reading-just-past": "evidence",
    "readings-not-explained": "evidence",
    "reading-marginal": "evidence",
    "other-readings-as-they-should-be": "evidence",
    "readings-as-they-should-be": "evidence",
    "length-is-the-finding": "evidence",
    "look-elsewhere": "evidence",
    "length-not-settled": "evidence",
    "nothing-to-compare": "evidence",
    "counted-run-tells-less": "note",
    "solved-anew-differs": "doubt",
}
"""Of readings taken at the appliance."""

SWEEP: dict[str, Severity] = _of(
    "note",
    """
    sweep-altitude-derated sweep-altitude-thin sweep-altitude-vapor sweep-apart sweep-authors-differ
    sweep-bands sweep-budget sweep-budget-of-the-run sweep-elbow-takes sweep-elbows-even
    sweep-feet-by-kind sweep-feet-by-size sweep-feet-hold sweep-feet-laminar sweep-feet-move
    sweep-few-tests sweep-flow-band sweep-flow-laminar sweep-flow-less sweep-flow-square
    sweep-furthest-apart sweep-held sweep-jump sweep-method-alone sweep-method-taken sweep-one-author
    sweep-only-flow sweep-rate-laminar sweep-rate-turbulent sweep-rate-unsure sweep-size-grows
    sweep-size-mixed sweep-step sweep-table-above sweep-table-above-those sweep-table-at-every-input
    sweep-table-below sweep-table-below-those sweep-table-decides sweep-table-inside
    sweep-table-inside-those sweep-temperature-alike sweep-temperature-moves sweep-temperature-still
    sweep-temperature-water
    """,
)
"""Of the sweeps: what to notice, and what they leave out."""

CHECKOVER: dict[str, Severity] = {
    **_of(
        "evidence",
        """
        asked-elsewhere gas-beside-limit grows-by-length growth-not-known in-no-room least-slope lie-not-given
        material-without-limit no-flue-run no-pressure-at-trap no-room-in-job not-laid-out nothing-lies-level
        piece-drops-away piece-falls-away piece-falls-toward piece-is-level piece-without-rise room-has-air run-verdict
        seal-not-given seal-to-spare spot-without-drain spots-drained straight-grows table-has-each-fitting
        """,
    ),
    **_of("note", "limits-from-memory rules-outranked tick-not-asked tick-of-no-rule"),
}
"""Of the check-over: what a job tells of its rules."""

ROOM: dict[str, Severity] = {
    **_of(
        "evidence",
        """
        blown-in-too-little connector-size-missing infiltration-missing infiltration-too-low no-air-blown-in
        no-opening no-opening-large no-opening-large-at opening-at-bottom opening-place-missing opening-top-missing
        openings-too-few-large openings-too-small room-beside-has-appliances two-openings-needed volume-too-small
        """,
    ),
    **_of("doubt", "enough-from-memory fans-may-turn-flue"),
    **_of(
        "note",
        """
        air-in-no-room air-piped appliance-not-category-one blown-in-for-fans category-missing category-other
        direct-vent-left-out fan-interlock fans-take-air infiltration-at-most infiltration-not-given no-fan-listed
        openings-for-all-input openings-permanent room-code-decides
        """,
    ),
}
"""Of room air: why air does not count or is not enough, and what an answer rests on."""

CODES: dict[str, Severity] = {
    **TABLE, **PAGE, **RUN, **FLOW, **CHECK, **STUDY, **APPLIANCE, **FIELD, **SWEEP, **CHECKOVER, **ROOM
}  # fmt: skip


def severity_of(code: str) -> Severity:
    """How severe a finding of this code is. KeyError for a code that is not registered."""
    return CODES[code]
