"""Help for the fields of a job that are not filled in every day."""

from __future__ import annotations

from ventsize.tui.field_help import FieldHelp, ScreenHelp

JOB_TOPICS: dict[str, FieldHelp | ScreenHelp] = {
    "wind": FieldHelp(
        "Wind speed at the outdoor end, for what it cools.", "The weather report, or the local code.", "900 ft/min"
    ),
    "air_source": FieldHelp(
        "Where the combustion air comes from. Some tables have rows of their own for one pipe and for two.",
        "Look for a second pipe at the appliance.",
        "from the room",
    ),
    "backflow": FieldHelp(
        "On a shared vent: whether something keeps flue gas out of this appliance while it is idle.",
        "The maker's common-vent instructions; the damper or check valve itself.",
        "prevented",
    ),
    "input_basis": FieldHelp(
        "Whether the input on the plate is gross or net heat. Plates in kW often state net heat.",
        "The rating plate: Hs or gross, Hi or net.",
        "gross heat",
    ),
    "wind_from": FieldHelp(
        "Where the wind comes from; without it the wind only cools.", "The weather report.", "north"
    ),
    "terrain": FieldHelp("What stands around the house and slows the wind.", "A look around.", "suburb"),
    "design_outdoor": FieldHelp(
        "The coldest day to be expected; a table's rows for pipe in the cold go by it.", "The local code.", "-10 degF"
    ),
    "room_pressure": FieldHelp(
        "Pressure of the room against outdoors at the same level, with fans as they run.", "A manometer.", "-3 Pa"
    ),
    "stack_height": FieldHelp(
        "Height of the neutral level of the house above the appliance; on a cold day the room is below outdoor "
        "pressure by this.",
        "About half way up the heated house (common practice).",
        "8 ft",
    ),
    "wall": FieldHelp("The side of the house, or the roof, on which this pipe ends.", "A compass.", "north"),
    "attic": FieldHelp("Temperature of the attic, where pipe is in it.", "A thermometer.", "20 degF"),
    "crawlspace": FieldHelp("Temperature of the crawlspace, where pipe is in it.", "A thermometer.", "40 degF"),
    "humidity": FieldHelp(
        "Relative humidity of the air that is burnt: it moves the dew point a little. Left out, 50 %.",
        "A hygrometer.",
        "40 %",
    ),
    "room_humidity": FieldHelp("Humidity of the room: whether a cold air pipe sweats.", "A hygrometer.", "30 %"),
    "cooling": FieldHelp(
        "Whether the gas is followed as it cools along the pipe, or keeps its temperature.", "Your own choice.", "yes"
    ),
    "trap_seal": FieldHelp(
        "Depth of water in the condensate trap: what keeps flue gas out of the drain.",
        "The trap itself, or the appliance's drawing.",
        "2 in",
        "water seal",
    ),
    "switch_opens": FieldHelp(
        "The setting of the pressure switch that proves this rate: below it the switch opens.",
        "The label of the switch. An appliance of two stages has two.",
        "0.85 in w.c.",
        "pressure switch set point",
    ),
    "between": FieldHelp(
        "From where to where the run goes: an appliance, outdoors, or a joint where runs meet.",
        "Follow the pipe.",
        "furnace and outdoors",
    ),
    "insulation": FieldHelp("How thick the pipe is insulated.", "A rule, at a cut end.", "1/2 in"),
    "conductivity": FieldHelp(
        "How well the insulation conducts heat.", "Its data sheet.", "0.27 Btu·in/(h·ft²·°F)", "k value of insulation"
    ),
    "air_given": FieldHelp(
        "How the air for burning is known: as excess air, or measured as O2 or CO2 in the dry flue gas.",
        "A combustion analyser, after ten minutes at this rate.",
        "excess air 35 %",
    ),
    "joint": FieldHelp("The name of the place where runs meet.", "Your own words, such as tee."),
    "joint_fitting": FieldHelp("What joins the runs there.", "Look at it: a tee or a wye.", "tee"),
    "in_line": FieldHelp(
        "The two runs that go straight through the tee or wye; the other one is the branch.", "Look at it."
    ),
    "beside": ScreenHelp("The open variants of the job: what is different in each, and what it comes to."),
    "working": ScreenHelp(
        "How a figure comes about: the result first, then the lines that make it, with their sources. o opens one "
        "number alone; + goes further back: to the flow, the gas, and combustion.",
        "Enter or = on a figure opens it.",
    ),
    "plant": ScreenHelp(
        "Appliances with their firing rates, and the joints where runs meet. Enter changes one.",
        "The rating plate, and the combustion analyser.",
    ),
}
