"""Words for the findings of `finding.codes.FIELD`: readings taken at the appliance."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ventsize.report.wording import Values

KIND_NAMES = {
    "pressure": "pressure",
    "temperature": "temperature",
    "oxygen": "O2",
    "carbon_dioxide": "CO2",
    "carbon_monoxide": "CO",
    "carbon_monoxide_air_free": "CO, air-free",
    "speed": "speed",
    "meter_seconds": "gas meter",
}
_PRACTICE = "(common practice, from memory; the maker's own figure decides)"
_LEAVE = "Get everybody out, call the emergency number from outside, and let nobody run the appliance."
_OFF = "Shut it off."


def _hoses(wrong: str, if_right: str) -> Callable[[Values], str]:
    def words(values: Values) -> str:
        meant = f" Probably {values['meant']} was meant." if values.raw["fits"] else ""
        return f"{wrong}: the gauge's two hoses are probably exchanged.{meant}{if_right}"

    return words


def _another_unit(values: Values) -> str:
    meant = format(values["meant"], "ppm" if values.raw["read_as"] == "ppm" else "")
    return (
        f"{values['measured']} is far from anything this could be. Probably the number is in {values['read_as']}, not "
        f"in {values['typed']}: that would be {meant}. Read it again and type its unit"
    )


def _numbered(words: str) -> Callable[[Values], str]:
    """Words about one reading or several, by their numbers."""

    def said(values: Values) -> str:
        numbers = values.raw["readings"]
        several = isinstance(numbers, tuple) and len(numbers) > 1
        return words.format(
            readings=f"reading{'s' if several else ''} {values['readings']}",
            is_are="are" if several else "is",
            it_they="they" if several else "it",
        )

    return said


def _length(values: Values) -> str:
    than = "longer" if values.raw["verdict"] == "over" else "shorter"
    return f"no fault is in the vent, but by the table it is {than} than allowed, and that is the finding"


def _kinds(values: Values) -> str:
    kinds = values.raw["kinds"]
    names = [KIND_NAMES[str(kind)] for kind in kinds] if isinstance(kinds, tuple) else []
    return (
        f"no accuracy is given for readings of {', '.join(names)}: that of a usual instrument is assumed (common "
        "practice, no source)"
    )


def _weather(values: Values) -> str:
    taken = f"the site's {values['outdoor']}" if "outdoor" in values.raw else "the standard atmosphere's temperature"
    return (
        f"not every reading says how cold it was outdoors: {taken} is taken, give or take {values['give_or_take']}; it "
        "matters where a run rises"
    )


def _runs(values: Values) -> str:
    runs = values.raw["runs"]
    names = ", ".join(f"'{name}'" for name in runs) if isinstance(runs, tuple) else ""
    return f"runs {names} do not say how far they rise: draft is left out there"


def _inlet(values: Values) -> str:
    kind = str(values.raw["kind"])
    amount = format(values["measured"], "ppm" if kind.startswith("carbon_monoxide") else "")
    return (
        f"{_OFF} The air pipe draws flue gas: {amount} {KIND_NAMES[kind]} was read in it. The appliance burns its own "
        "exhaust, and carbon monoxide rises. Find how it gets in: ends too near each other, a leak between the pipes"
    )


def _unit(values: Values) -> str:
    return (
        f"The reading of {KIND_NAMES[str(values.raw['kind'])]} is no figure that an analyser shows. Another unit was "
        "probably meant: type it again with % or ppm, or confirm it"
    )


WORDS: dict[str, str | Callable[[Values], str]] = {
    # a pressure switch beside its setting
    "switch-below-setting": (
        "{measured} across the switch is below its setting, {setting}: the switch opens and the burner stops. Do not "
        "bridge or change the switch; find what lowers the pressure"
    ),
    "switch-near-setting": (
        "{measured} across the switch is only {above} above its setting, {setting}: marginal. A gust, a warm vent or "
        f"a worn switch opens it. {{usual_low}} to {{usual_high}} above the setting is usual at full fire {_PRACTICE}"
    ),
    "switch-above-setting": "{above} above the switch's setting, {setting}: enough to hold it closed",
    # readings that cannot be compared
    "no-switch-setting": (
        "the setting of the pressure switch is not known: type the number written on the switch, once for each rate"
    ),
    "not-cooled": (
        "the job assumes that the gas does not cool, so there is nothing to compare with: have it "
        "figured as it cools along the pipe"
    ),
    "example-inducer": (
        "the inducer is an example, not the appliance's own, so that there is nothing to compare with: type its own "
        "data over it"
    ),
    "no-fan-curve": "the job does not describe an inducer that holds its flow ([appliance.inducer])",
    "beyond-fan-curve": "no share of top speed puts this flow and head on the curve typed in",
    "before-repair": "taken before, and not taken again since",
    "manometer-zero": "what the manometer shows with its hoses open; it is taken off every pressure",
    "rate-not-in-job": (
        "the job has no firing rate of this name. It is kept; the job's rates are {rates}. Rename it or add the rate"
    ),
    "no-meter-dial": "how much one revolution of the dial passes is not typed: meter_dial = '2 ft³'",
    # readings that cannot be right
    "pressure-beyond-appliance": (
        "no inducer of such an appliance gives so much: look for a slipped decimal point or another unit"
    ),
    "switch-hoses-exchanged": _hoses("the pressure across the switch has the wrong sign", ""),
    "air-pipe-under-pressure": _hoses(
        "an air pipe is under suction while the appliance runs, and this is pressure",
        " If it is right, something blows into the pipe, such as wind on the inlet",
    ),
    "vent-under-suction": _hoses(
        "this vent is under pressure here while the appliance runs, and this is suction",
        " If it is right, something draws on the vent: wind across the terminal, or a fan",
    ),
    "oxygen-above-air": "there is no more than {most} oxygen in air: set the analyser to zero in fresh air",
    "oxygen-of-air": (
        "{measured} oxygen is that of air, not of flue gas: the probe is not in the stream, its hose draws air, or "
        "nothing was burning"
    ),
    "carbon-dioxide-beyond-fuel": (
        "this fuel gives no more than {most} carbon dioxide, with no excess air at all: is the analyser set to another "
        "fuel, or is it the oxygen that was read?"
    ),
    "carbon-dioxide-of-air": (
        "it holds no more carbon dioxide than air does: the probe is not in the stream, or nothing was burning"
    ),
    "gases-contradict": (
        "oxygen and carbon dioxide contradict each other: with {oxygen} oxygen goes {goes_with} carbon dioxide in dry "
        "flue gas of this fuel, not {carbon_dioxide} (excess air {by_oxygen} by the one, {by_carbon_dioxide} by the "
        "other)"
    ),
    "lower-at-higher-rate": (
        "{measured} at {rate}, and {other} at {other_rate} in the same place: more gas cannot lose less, so one of the "
        "two is wrong"
    ),
    "higher-farther-out": (
        "{measured} near the appliance, and {other} farther out: the pressure falls towards the open end, so one of "
        "the two is wrong"
    ),
    "gases-exchanged": (
        "{oxygen} O2 with {carbon_dioxide} CO2: each is what the other should be. Probably the two are exchanged"
    ),
    "temperature-not-of-flue-gas": (
        "no flue gas of a fan-assisted appliance is so hot or so cold: is it the unit, or the probe?"
    ),
    "speed-above-top": (
        "a speed above the inducer's top speed: type a share of top speed such as '72 %'; turns a minute are not taken"
    ),
    "probably-another-unit": _another_unit,
    "probably-decimal-point": (
        "{measured} is far from anything this could be: probably a slipped decimal point, and {meant} was meant"
    ),
    "probably-another-dial": (
        "so many seconds would fit another dial of the meter: read the figure in the middle of the dial again"
    ),
    "probably-minutes": "so few seconds are probably minutes: type seconds for one revolution",
    "perhaps-another-unit": (
        "hardly any pressure. If the number is in {read_as}, not in {typed}, it would be {meant}, as expected. If it "
        "is right, the pipe may have come apart, or the hose is off: look"
    ),
    "perhaps-decimal-point": (
        "hardly any pressure. With the decimal point elsewhere it would be {meant}, as expected. If it is right, the "
        "pipe may have come apart, or the hose is off: look"
    ),
    # shut it off
    "co-in-room-leave": (
        f"{_OFF} {{measured:ppm}} carbon monoxide in the room. {_LEAVE} Limit: 35 ppm over one hour, 9 ppm over eight "
        "(40 CFR 50.8)"
    ),
    "co-alarm": f"{_OFF} A carbon monoxide alarm sounds. {_LEAVE} Measure the room before anybody goes back in",
    "co-in-room": (
        f"{_OFF} {{measured:ppm}} carbon monoxide in the room: open doors and windows, and find where it comes from "
        "before anything runs again. Limit: {limit:ppm} over eight hours (40 CFR 50.8)"
    ),
    "flue-gas-in-room": (
        f"{_OFF} Flue gas comes into the room. Measure carbon monoxide in the room, and find the open joint, the dry "
        "trap or the blocked vent before it runs again (fuel gas code: no spillage; from memory)"
    ),
    "co-in-flue": (
        f"{_OFF} {{air_free:ppm}} carbon monoxide in the flue gas, air-free. Limit: {{limit:ppm}} (ANSI Z21.47 and "
        "Z21.13, from memory). It burns badly: check gas pressure, air and burner before any pipe"
    ),
    "oxygen-near-zero": (
        f"{_OFF} {{measured}} oxygen in the flue gas: next to no excess air, and carbon monoxide rises steeply. Less "
        "than {least} is not to be run (common practice, from memory)"
    ),
    "vent-too-hot": (
        f"{_OFF} {{measured}} was read in the vent, and its pipe ({{material}}) may have {{limit}}: it softens, and "
        "its joints open. Find why the gas is so hot before it runs again"
    ),
    "flue-gas-in-inlet": _inlet,
    "unit-of-reading": _unit,
    "switch-closed-below-setting": (
        f"{_OFF} The pressure switch is closed with less across it than its setting: it is stuck or bridged, and "
        "proves nothing. Replace it; never run the appliance with a bridged switch"
    ),
    "not-read-again": (
        f"{_OFF} This was read earlier, and not again since. It stays off until the same is read again, at the same "
        "place and rate, and is as it should be"
    ),
    "co-in-flue-high": (
        "{air_free:ppm} carbon monoxide, air-free: below the limit of {limit:ppm}, but more than {service:ppm} calls "
        "for service: gas pressure, air, burner (common practice, from memory)"
    ),
    "co-air-free-assumed": (
        "{air_free:ppm} air-free, with {oxygen} oxygen as the job has it: read O2 at the same place to be sure"
    ),
    # what is seen
    "seen-switch-open": "the pressure switch is open: read the pressure across it, and what is written on it",
    "seen-switch-closed": "the pressure switch is closed. A closed switch does not mean that the vent is allowed",
    "seen-switch-chatters": "the switch chatters: water in pipe or tubing, wind, or a pressure near its setting",
    "seen-trips-now-and-then": (
        "it trips now and then: wind, water that gathers, or a pressure near the switch's setting. Read it at its worst"
    ),
    "seen-trips-before-ignition": "it trips before it lights: switch, tubing, or a pipe that is all but closed",
    "seen-trips-after-ignition": "it trips once it burns: warm gas takes more room, or flue gas gets into the inlet",
    "seen-trips-at-the-change-to-high-fire": (
        "it trips at the change to high fire: a restriction costs most there, with the flow squared"
    ),
    "seen-trips-when-warm": "it trips after some minutes: water gathering in a low spot, or flue gas in the inlet",
    "seen-trips-in-wind": "it trips in wind: look at where the two ends are, and take the readings on a calm day",
    "seen-flame-goes-out": "the flame goes out: flue gas in the inlet, too little air, wind. Read O2 in the air pipe",
    "seen-rumbles-or-howls": "it rumbles or howls: too little air or too much gas. Read O2 and CO, and clock the meter",
    "seen-gurgles": "it gurgles: water stands in a pipe or in the trap",
    "seen-loud-after-a-power-cut": (
        "it runs loud after a power cut: the inducer has learned anew what the pipes cost, and they cost more than "
        "when it learned before. Read the collar and the air pipe"
    ),
    "seen-flue-gas-in-the-room": "flue gas in the room: an open joint, a dry trap, a blocked vent",
    "seen-carbon-monoxide-alarm-sounds": "a carbon monoxide alarm sounds",
    "seen-length-and-fittings-are-right": "measured and counted again: length and fittings are as the job says",
    "seen-pipe-size-is-right": "the marking read on every piece of pipe: size and schedule are as the job says",
    "seen-no-water-in-the-vent": "no water stands in the vent: it slopes all the way, or was opened where it is lowest",
    "seen-vent-is-clear-inside": "the vent was looked into, and nothing narrows it",
    "seen-terminal-is-clear": "the terminal was looked at from outside, and is clear",
    "seen-air-pipe-is-clear": "the air pipe and its inlet were looked into, and are clear",
    "seen-no-joint-leaks": "every joint was tried with soapy water, and none leaks",
    "seen-switch-tubing-is-clear": "the pressure switch's tubing and ports are dry and clear",
    "seen-room-pressure-is-right": (
        "with a window of the room open the pressures stayed the same: it is not the room that pulls"
    ),
    "seen-no-wind-at-the-ends": "the air was still at the terminal and at the inlet while readings were taken",
    "seen-gas-input-is-right": "the meter was clocked and the gas pressure read: the input is as rated",
    "seen-no-flue-gas-at-the-inlet": "air drawn at the inlet was read, and holds no flue gas",
    "seen-exchanger-and-inducer-are-clean": "heat exchanger, burners and the inducer's wheel were looked at: clean",
    "switch-open-above-setting": (
        "the switch is open though the pressure across it is well above its setting: the switch or its wiring is at "
        "fault, not the pipe"
    ),
    # assumed, and to be kept in mind
    "accuracy-assumed": _kinds,
    "weather-assumed": _weather,
    "inducer-example-not-judged-by": (
        "the inducer described is an example, not the appliance's own: no reading is judged by it, and the inducer is "
        "taken to hold its flow"
    ),
    "inducer-not-described": (
        "no inducer is described: it is taken to hold its flow, or to lose some where more is in its way"
    ),
    "inducers-of-several": "with several appliances, each inducer is taken to hold its flow whatever the vent",
    "fixed-speed-flow": "the inducer has a fixed speed: the flow is what its curve and this vent give",
    "fixed-speed-not-found": "no flow is found on the fan curve; the flow is taken as the job states it",
    "vent-fault-kills": (
        "a vent that is blocked, leaks or draws its own gas back can put carbon monoxide in the building. If flue gas "
        "may be getting in, shut the appliance off until it is fixed; measure carbon monoxide in the room, and see "
        "that a carbon monoxide alarm works"
    ),
    "room-may-spill": (
        "the room is at {measured} against outdoors. More than {limit} of suction can make an appliance with a draft "
        "hood, such as a water heater, or a fireplace in this house spill its flue gas into the room (limits of CGSB "
        "51.71, from memory). Find what draws, and test the others for spillage before you leave"
    ),
    "leaks-hardly-show": (
        "pressures hardly show a leak: go over every joint with leak-test solution (common practice, no source)"
    ),
    "read-when-steady": (
        "let each rate settle before reading, with doors shut and on a calm day: a wind of 20 mph (9 m/s) can move "
        "every pressure by {moves}, half of the density of air times its speed squared"
    ),
    "close-holes": (
        "close every hole drilled for a reading gas-tight; where the maker forbids drilling, use the ports there are"
    ),
    "inducer-learns-again": (
        "an inducer that adapts keeps what it learned until its power is interrupted: after the vent is altered, "
        "interrupt the power and let it learn again at every rate (common practice)"
    ),
    "rise-not-told": _runs,
    "collar-tells-little": (
        "the collar alone tells little: it shows that something costs more or less, hardly what or where. A second "
        "rate, the terminal and O2 tell most for the time they take"
    ),
    "readings-off": _numbered("{readings} {is_are} not what {it_they} should be"),
    "readings-off-beside-the-pipe": _numbered(
        "{readings} {is_are} not what {it_they} should be, while those taken in the pipe are"
    ),
    "readings-off-together": (
        "each reading by itself could be right, but together they are not what this vent should show"
    ),
    "readings-cannot-be-right": _numbered(
        "{readings} cannot be right and {is_are} left out: read again; where it is the same again, say so with "
        "confirmed = true, or * at the appliance"
    ),
    "reading-marginal": _numbered("{readings} {is_are} marginal, which no cause explains better than nothing wrong"),
    "reading-just-past": _numbered(
        "{readings} stands just past its accuracy, as one of several does now and then with nothing wrong: it is worth "
        "repeating"
    ),
    "readings-not-explained": _numbered(
        "{readings} {is_are} not what {it_they} should be, but no cause explains that better than a vent with nothing "
        "wrong: set the instrument to zero and read again"
    ),
    "other-readings-as-they-should-be": "the other readings are what this vent should show",
    "readings-as-they-should-be": "all together the readings are what this vent should show",
    "length-is-the-finding": _length,
    "look-elsewhere": "as far as they go, the vent is not the fault; look elsewhere",
    "length-not-settled": "the vent is not the fault, but no table settles whether its length is allowed",
    "nothing-to-compare": "no reading can be compared with what this vent should show",
    "gas-divides": "the gas divides over several pipes here: readings are compared, but causes are not worked out",
    "counted-run-tells-less": (
        "a run of this job is only counted: laid out piece by piece, readings between its pieces could tell more "
        "causes apart"
    ),
    "solved-anew-differs": (
        "solved anew, the leading cause shows something else than the search took it for: read again"
    ),
}
