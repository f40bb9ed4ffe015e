"""Help for the field in focus: what it is, where to find it, a typical value, the trade's wording."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from ventsize.tui.field_help import FieldHelp, ScreenHelp
from ventsize.tui.help_job import JOB_TOPICS
from ventsize.tui.help_tables import TABLE_TOPICS

TOPICS: dict[str, FieldHelp | ScreenHelp] = {
    "title": FieldHelp("What you call this job.", "Your own words: customer, address, appliance."),
    "note": FieldHelp("Anything worth remembering about the job.", "Your own words."),
    "name": FieldHelp("The name the runs refer to.", "Your own words, such as furnace or boiler."),
    "altitude": FieldHelp(
        "Height of the site above sea level. Tables are printed for bands of altitude.",
        "A map, a phone, or the building department. The table's own bands are in the installation instructions.",
        "620 ft or 190 m",
    ),
    "outdoor": FieldHelp(
        "Outdoor temperature to judge draft and combustion air at; the winter design temperature is the usual one.",
        "The local code or the heat loss calculation.",
        "-5 degF",
    ),
    "indoor": FieldHelp("Temperature of the room the appliance stands in.", "A thermometer.", "68 degF"),
    "fuel": FieldHelp("What the appliance burns.", "The rating plate; conversions carry a second label."),
    "collar": FieldHelp("Size of the vent outlet on the appliance.", "The outlet itself, or its drawing.", "2 in"),
    "rate": FieldHelp("A firing rate: one for single-stage, two or more for staged.", "The rating plate.", "high, low"),
    "input": FieldHelp(
        "Heat input at this rate, gross, as on the rating plate; not the output. The table is read at the highest.",
        "The rating plate: INPUT, in Btu/h or kW. MBH means a thousand Btu/h.",
        "80,000 Btu/h, written 80 MBH too",
    ),
    "excess_air": FieldHelp(
        "Air beyond what the flame needs. It does not move the table's verdict, but the pressure.",
        "From a combustion analyser; or type O2 or CO2 instead. Condensing appliances run near 30 to 45 % "
        "(common practice).",
        "35 %",
    ),
    "oxygen": FieldHelp("Oxygen in the dry flue gas.", "The combustion analyser, after ten minutes.", "6 %"),
    "carbon_dioxide": FieldHelp("CO2 in the dry flue gas.", "The analyser.", "8.5 % on natural gas"),
    "flue_temperature": FieldHelp(
        "Temperature of the flue gas at the appliance's outlet.",
        "The analyser's probe at the test port.",
        "100 to 130 degF on a condensing appliance (common practice)",
    ),
    "run": FieldHelp("A run is the pipe between two ends: vent, air. This is its name.", "Your own words."),
    "carries": FieldHelp("Flue gas goes out, combustion air comes in.", "Follow the pipe from the appliance."),
    "straight": FieldHelp(
        "All straight pipe of the run added up, without fittings.",
        "A tape measure along the pipe, elbow to elbow.",
        "27 ft, or 12 ft 6 in",
    ),
    "size": FieldHelp("Nominal pipe size.", "Printed along the pipe.", "2 in or 3 in"),
    "material": FieldHelp(
        "What the pipe is made of. Use only what the appliance's instructions list.", "Printed along the pipe."
    ),
    "table": FieldHelp(
        "The allowance table that judges this run, typed in from the maker's instructions. It decides.",
        "Installation instructions, under venting: allowable length by input, size and altitude. "
        "6 on the first screen or Ctrl+T in a count types one in.",
    ),
    "length": FieldHelp("Length of this straight pipe.", "A tape measure, end to end.", "4 ft 6 in"),
    "heading": FieldHelp("Which way the pipe goes, walking from the run's first end.", "A compass, or any wall."),
    "rise": FieldHelp("How far it climbs from one end to the other; negative if it falls.", "A level.", "1 ft"),
    "surroundings": FieldHelp("What the pipe passes through.", "Look around.", "attic"),
    "fitting": FieldHelp("Which fitting this is. Short, long and mitered elbows differ.", "Look at the bend's radius."),
    "count": FieldHelp("How many there are in the run.", "Count them along the pipe.", "3"),
    "k": FieldHelp("Your own loss coefficient, in place of the catalog's.", "A test report.", "0.9"),
    "table_length": FieldHelp("Equivalent length of your own, in place of the table's.", "The fitting's maker."),
    "route": ScreenHelp(
        "The run under the list's cursor, drawn to scale: from above with north up, and unrolled from the side. "
        "Elbows are corners; straight pipe lies end to end, without what elbows add.",
        "F2, then a piece of another run, draws that run. Headings are typed on each pipe, or by walking the route. "
        "Dashed pipes have no heading and are drawn straight on.",
    ),
    "field": ScreenHelp(
        "A visit, one question at a time: readings, the check-over rule by rule, causes, and the visit's record.",
        "Everything is on the number pad: digits choose and type, Enter goes on, + met, - not met. Esc goes back.",
        "kept as you type, and in the job's file once it is saved; a lid may be shut at any time",
    ),
    "field_readings": ScreenHelp(
        "What would explain the readings, and what to read next; below it the firing rates to read at, then each "
        "reading beside what it should be.",
        "0 types the reading that is asked for. A rate leads to its places; a reading is typed anew.",
    ),
    "field_reading": FieldHelp(
        "A reading: type its figure, and it is set against what this vent should show. Enter goes to the next.",
        "A manometer at the port, an analyser's probe. Let each rate settle before reading. What looks like a slip is "
        "to be read again; where it is the same, * has it taken as it stands.",
        "0.31, or 0.31 in w.c., or 77 Pa; a minus for suction; 0.31+-0.005 where the gauge is good to 0.005",
    ),
    "field_seen": ScreenHelp(
        "What is seen and heard at a rate, beside the figures. Each points to causes, and some say to shut it off.",
        "The last lines say what you looked at and found right: that speaks against its cause. "
        "A digit or Enter marks a line, or takes the mark away; Esc goes back.",
    ),
    "field_rule": ScreenHelp(
        "One rule of the check-over. + if it is OK, - if it is not, or type what you measured: its limit then decides.",
        more="14, or 14 in, or 4 ft 2 in",
    ),
    "roomair": ScreenHelp(
        "Rooms that appliances take their air from: volume, openings, fans. The answer below follows every keystroke.",
    ),
    "room_name": FieldHelp("What the room is called.", "Your own words."),
    "volume": FieldHelp(
        "Volume of the room, with what stands open to it without a door.",
        "Length by width by height.",
        "1,920 ft³ for 20 ft by 12 ft by 8 ft",
    ),
    "infiltration": FieldHelp(
        "How often an hour the house's air leaks away and in. Leave it out where nobody has measured it.",
        "A blower door test; below 0.40 the standard method may not be used.",
        "0.35 ACH",
    ),
    "supply": FieldHelp("Air that a fan blows into the room, interlocked with the appliances.", "The fan's plate."),
    "draft": FieldHelp(
        "Whether the appliance has a fan for its flue gas, or a chimney pulls.", "Look for a draft hood."
    ),
    "category": FieldHelp(
        "Its category: the rule of room air is for draft hoods and Category I; for the others the maker decides.",
        "The rating plate; an appliance with a draft hood is Category I.",
        "I",
    ),
    "connector": FieldHelp("Size of its vent connector.", "At the draft hood.", "4 in"),
    "storey": FieldHelp("Whether that room is on the same storey: openings between storeys are larger.", "Look."),
    "opening_to": FieldHelp("Where the opening leads: outdoors, or to a room listed beside.", "Look through it."),
    "opening_area": FieldHelp(
        "Area of the opening: what air can pass, or the whole frame where a louver or a free share is given.",
        "Width by height.",
        "100 in²",
    ),
    "opening_at": FieldHelp("Whether it is within a foot of the top or of the bottom of the room.", "A tape measure."),
    "way": FieldHelp("How it leads outdoors: horizontal ducts need twice the area.", "Look."),
    "louver": FieldHelp("What covers it. Metal is reckoned three quarters free, wood one quarter.", "Look."),
    "free_share": FieldHelp(
        "The share that is free, where it is known, in place of the louver's.", "Its maker.", "60 %"
    ),
    "exhaust": FieldHelp(
        "What takes air out of the room: a dryer, a bath or kitchen fan.", "Its plate.", "180 ft³/min"
    ),
    "options": ScreenHelp(
        "Every combination of what may be chosen, judged by the table and by calculation. Enter puts the one under the "
        "cursor into the job and goes back to it; Ctrl+Z takes it out again.",
    ),
    "repairs": ScreenHelp(
        "The smallest changes that bring each run within, or what can be saved. Each was made and judged. Enter makes "
        "the one under the cursor and goes back to the job once it is within; Ctrl+Z takes it back.",
        "New parts are what is bought if the rest hangs already; whole job is how much more all of it costs.",
    ),
    "headroom": ScreenHelp(
        "Straight pipe that is allowed with so many elbows, a letter for each size. The run stands where the dashed "
        "line turns down: below a size's line it is within for that size.",
    ),
    "papers": ScreenHelp(
        "A paper of this job to hand over: a page for the customer, then what a permit file wants to hold, with "
        "blank lines for license number and signature. Enter on a kind asks where to write it.",
        "With another job beside this one the paper is a proposal.",
    ),
    "takeoff": ScreenHelp(
        "What is bought to build the job. What has no price is named and never counts as nothing. Enter, or a digit, "
        "types the price of what the cursor is on, as in 4.20 or $4.20; it is kept for every job. r: labor, mark-up, "
        "tax, the currency, and the name of the firm on papers, a line each.",
        "How pipe is sold, cut and hung: a takeoff.toml among your own tables.",
    ),
    "along": ScreenHelp(
        "What a gauge and a thermometer moved along the run would show, the way the gas moves; where the pipe freezes "
        "inside; how much water condenses and whether it runs back to the trap. Elbows, tees, wyes and changes of size "
        "stand on the axis. Dashed pressures are with the gas at one temperature. At worst is with the films inside "
        "and outside the pipe off by a fifth.",
        "Type a day or a thickness above; empty again, the job's own. e turns cooling on or off in the job, for every "
        "answer. Rises, and what pipes run through, are typed on each pipe.",
    ),
    "exercises": ScreenHelp(
        "Problems for a class, drawn by chance and met in practice, each answered by the solver. Everything in them is "
        "invented.",
    ),
    "exercises_topic": FieldHelp(
        "What the problems are about; mixed has one of each, and always those that a table decides, does not cover, "
        "or cannot tell apart.",
        "Left and right step through the topics, Space or Enter lists them.",
    ),
    "exercises_level": FieldHelp("How far a problem goes.", "1 one formula, 2 several, 3 from the firing rate on."),
    "exercises_seed": FieldHelp("Which sheet: the same number brings the same sheet again.", "Your choice.", "1"),
    "exercises_names": FieldHelp(
        "The students' names, with commas between; left empty, numbers.", "Your class list.", "Ann, Ben"
    ),
    "exercises_students": FieldHelp("So many sheets, each with other numbers.", "Your class list.", "12"),
    "cold_outdoor": FieldHelp(
        "One outdoor temperature to look at. Attic and crawlspace follow it. Empty: the job's and colder days.",
        "The local record, or the coldest night remembered.",
        "-10 degF",
    ),
    "cold_insulation": FieldHelp(
        "Insulation on every vent pipe, instead of what the job has. Empty: as in the job. Nothing is changed there.",
        "What the supplier has.",
        "1/2 in",
    ),
    "inducer": ScreenHelp(
        "Curves: the fan's head over its flow at top speed, what the vent takes at each rate, and the speed that meets "
        "it. By length: the vent made longer step by step, at every rate. One inducer adapts its speed, one has a "
        "speed for each rate, one a single speed. Where the pressure switch opens, the burner is out.",
        "w cuts the power on a vent that was made longer: the arrows then take the steps of starting again. Use points "
        "from the fan's own data only.",
    ),
    "fan_start": FieldHelp("Straight vent pipe to begin with.", "Your choice; empty, as in the job.", "15 ft"),
    "fan_curve": FieldHelp(
        "Points of flow and head at top speed, three or more; heads fall as flow rises. Nothing is read beyond them.",
        "The fan's data sheet, as flow: head; flow: head.",
        "0: 2.2; 20: 1.6; 38: 0",
    ),
    "fan_source": FieldHelp("Where the curve comes from, so that anybody can look.", "Data sheet, page, date."),
    "fan_example": FieldHelp(
        "Whether the curve is the appliance's own data. What is not is called an example wherever it is used.",
        "The appliance's instructions.",
    ),
    "fan_adaptive": FieldHelp(
        "Whether it holds its flow by changing speed, or keeps its speed.", "The appliance's instructions."
    ),
    "fan_speed": FieldHelp(
        "Its speed at this rate as a share of top speed, where it keeps its speed; empty is top speed.",
        "The appliance's instructions.",
        "70 %",
    ),
    "fan_switch": FieldHelp(
        "Setting of the pressure switch at this rate: the drop across the heat exchanger that must be there.",
        "Printed on the switch.",
        "0.75 in w.c.",
    ),
    "uncertainty": ScreenHelp(
        "The calculation as a range: lengths, fittings, excess air and temperature drawn from their ranges, case by "
        "case. The table still decides.",
        "The ranges are in the job under [uncertainty]; Enter in the field draws the cases, Esc stops it.",
    ),
    "uncertainty_cases": FieldHelp("How many cases are drawn.", "More make the ends surer, and take longer.", "10000"),
    "lesson": ScreenHelp(
        "Questions about this job. Everybody guesses before the answer is shown; answers are worked out from the job.",
        "Type a choice's number or a number, and Enter. Back goes to the guess or the question before; the score is "
        "kept in class-score.toml in your own ventsize folder.",
        "F2: Team blue, Team red",
    ),
    "compare": ScreenHelp(
        "The open job as A, and up to five variants beside it: what differs, what each loses and where, and what made "
        "the difference. The shares of several changes add up to the whole.",
    ),
    "sweep": ScreenHelp(
        "One thing of the job changed and everything else held. ▲ is where the job stands; a dotted stretch is where "
        "nobody can say for sure.",
    ),
    "start": ScreenHelp(
        "Start here: pick what you want to do. Enter, or its number, opens it.",
        "Esc or q leaves the program. Work that is not saved is offered again at the next start.",
    ),
    "jobs": ScreenHelp(
        "The jobs of a folder: state, verdict, length left, cost by your price list. Enter opens one.",
        "The states of a job are to measure, offered, ordered and built. A duplicate is the start of another job. What "
        "is removed stands in the folder archive. The order list is of the jobs marked.",
    ),
    "choosing": ScreenHelp(
        "A list to choose from: arrows, then Enter; Esc leaves everything as it was.",
        "Letters typed search in it, several words too.",
    ),
    "file": ScreenHelp(
        "A file, by its name in the folder shown or by its whole path; ~ is your own folder.",
        "Arrows and Tab take a name from the list, Shift+Tab goes to the folder above.",
    ),
    "reading_text": ScreenHelp(
        "An answer to read: arrows and PageDown move in it.",
    ),
    "anywhere": ScreenHelp(
        "? or F1 on a field tells what it is and where to find it. Within words, press Home first.",
    ),
    "list": ScreenHelp(
        "Every run of the job with its pieces, walking from its first end. Enter changes a piece.",
    ),
}
SCROLLING = ("up", "down", "pageup", "pagedown", "home", "end")
TOPICS = {**JOB_TOPICS, **TABLE_TOPICS, **TOPICS}


class HelpScreen(ModalScreen[str | None]):
    """What is known of a topic, and the keys of the screen it was asked on. Gives "keys" where they are asked for."""

    DEFAULT_CSS = """
    HelpScreen {
        align: center middle;
        & > VerticalScroll {
            width: 74; max-width: 96%; height: auto; max-height: 96%;
            background: $panel; border: round $primary; padding: 0 1; scrollbar-size-vertical: 1;
        }
    }
    """

    def __init__(self, topic: str, keys: Sequence[tuple[str, str]] = ()) -> None:
        super().__init__()
        self._topic, self._keys = topic, keys

    def compose(self) -> ComposeResult:
        """What, where, typical; then the keys."""
        found = TOPICS.get(self._topic)
        lines = ["\n\n".join(found.lines if found else ["There is no help on this."])]
        width = max((len(keys) for keys, _ in self._keys), default=0)
        lines += ["", "Keys here"] if self._keys else []
        lines += [f"  {keys:<{width}}  {label}" for keys, label in self._keys]
        with VerticalScroll() as box:
            box.border_title = "Help"
            box.border_subtitle = "? again searches all keys; Esc closes"
            yield Static(Content("\n".join(lines)))

    def on_key(self, event: events.Key) -> None:
        """The arrows scroll; ? asks for all keys; any other closes."""
        if event.key not in SCROLLING:
            event.stop()
            self.dismiss("keys" if event.key == "question_mark" else None)

    def on_click(self) -> None:
        """Any click."""
        self.dismiss(None)
