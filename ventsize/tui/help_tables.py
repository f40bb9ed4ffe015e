"""Help for the fields of allowance tables, of a count and of the settings."""

from __future__ import annotations

from ventsize.tui.field_help import FieldHelp, ScreenHelp

TABLE_TOPICS: dict[str, FieldHelp | ScreenHelp] = {
    "tables": ScreenHelp(
        "The allowance tables a job can be judged by: your own, and demonstrations whose figures are invented.",
        "Digits or / begin a search: 80 kbtu 3in. A table that gets another name gets it in the jobs too.",
    ),
    "table_title": FieldHelp(
        "What the table is called.", "The page's heading, and the appliance it is for.", "vent lengths, two-stage 80"
    ),
    "table_source": FieldHelp(
        "Where it was copied from, so that anybody can look. A table without a source is not used.",
        "Cover and foot of the page: manual, page, date.",
        "installation instructions, page 12, March 2024",
    ),
    "table_applies_to": FieldHelp(
        "Which pipes the page speaks of. A run that the table is not for is not covered.",
        "The heading over the lengths: vent, combustion air, or both.",
        "vent and air pipe",
        "exhaust and intake; flue and inlet",
    ),
    "table_counts": FieldHelp(
        "Whether each pipe has the length to itself, or vent and air pipe add up against one length.",
        "A note under the table: 'each pipe' or 'total of both pipes'.",
        "each pipe by itself",
        "total combined length; equivalent length of both pipes",
    ),
    "table_most_elbows": FieldHelp(
        "The most elbows a run may have, whatever its length; where vent and air pipe share a length, both together. "
        "Each elbow of more than 30° is one. Empty where the page sets no limit; with more, a run is over.",
        "A note by the lengths: 'no more than 8 elbows'.",
        "8",
        "maximum number of elbows; not to exceed",
    ),
    "table_mixed_sizes": FieldHelp(
        "How a run of two sizes is judged: by the strictest of its sizes, or by the share that each uses of its own "
        "length, added up. The strictest where the page says nothing.",
        "A note by the lengths: 'where sizes are mixed …'.", "the strictest size", "combination of diameters",
    ),
    "table_longest_level": FieldHelp(
        "The most pipe in a run that is not vertical.", "A note by the lengths.", "40 ft", "maximum horizontal length",
    ),
    "table_longest_rise": FieldHelp(
        "The most pipe in a run that goes up.", "A note by the lengths.", "60 ft", "maximum vertical length; rise",
    ),
    "table_longest_difference": FieldHelp(
        "How much the straight lengths of vent and air pipe may differ.", "A note by the lengths.", "20 ft",
        "equal lengths; within … feet of each other",
    ),
    "table_same_size": FieldHelp(
        "Whether vent and air pipe must be of one size.", "A note by the lengths.", "no matter", "same diameter",
    ),
    "table_altitude_factor": FieldHelp(
        "How the lengths are reduced with altitude, for rows without altitudes of their own. Each step begun counts.",
        "A footnote: 'reduce by 4 % for each 1,000 ft above 2,000 ft'.", "4 % per 1000 ft above 2000 ft",
        "high altitude; derate",
    ),
    "table_counts_as": FieldHelp(
        "How many feet one foot of a material counts as, by the material's name in jobs.",
        "A footnote: 'one foot of flexible pipe counts as two'.", "flexible-liner-corrugated 2", "flexible pipe; liner",
    ),
    "table_confirm": FieldHelp(
        "Footnotes that nothing else here can hold, word for word, with | between. A run is incomplete until its job "
        "confirms each of them.",
        "The page's footnotes.", "Terminals on one wall.", "notes; conditions",
    ),
    "table_exposed": FieldHelp(
        "How much pipe may stand in unheated space or outdoors, by size, design temperature and insulation.",
        "A table of its own, or a note.", "3 in, -10 degF, 1/2 in, 30 ft", "exposed pipe; unconditioned space",
    ),
    "table_fitting": FieldHelp(
        "A fitting that only this page knows, by the name that jobs and deductions give it.",
        "The drawing or the list of accessories.", "wall-kit, a terminal", "accessory; kit",
    ),
    "table_note": FieldHelp("Anything else the page says that whoever reads a verdict should know.", "Its footnotes."),
    "row_input": FieldHelp(
        "The appliance's input the row is for. A job is looked up at its highest input; between two rows the stricter "
        "counts, beyond them the table has no answer.",
        "First column of the page, as printed. A bare number is in thousands of Btu/h below 1000, in Btu/h above.",
        "80,000 Btu/h, or 80 for 80 kBtu/h",
        "input rate, Btuh, MBH, model size",
    ),
    "row_size": FieldHelp(
        "The nominal pipe size the row is for.", "Head of a column or of a row of the page.", "2 in or 3 in",
        "pipe diameter; nominal vent size",
    ),
    "row_altitude": FieldHelp(
        "The lowest and the highest altitude the length is for. A dash where the page gives none: the row then holds "
        "at every altitude, with the page's factor if it has one.",
        "Head of the page, of a group of rows or of a column.", "0-2000 or 2001-4500, in feet",
        "elevation; feet above sea level",
    ),
    "row_pipes": FieldHelp(
        "Whether the length is for one pipe, with air from the room, or for two. Empty where it is for both.",
        "Head of a column or of a table.", "1 or 2", "one-pipe and two-pipe; direct vent and non-direct vent",
    ),
    "row_ends": FieldHelp(
        "The outdoor ends the length is for. Empty where it is for every end.",
        "Head of a column, or the drawing beside the table.", "terminal-open, or a kit of the page's own",
        "termination; vent terminal; concentric kit",
    ),
    "row_materials": FieldHelp(
        "The pipe materials the length is for. Empty where it is for every one.",
        "Head of the table or a footnote.", "pvc-40, cpvc-40", "pipe type; schedule",
    ),
    "row_air_size": FieldHelp(
        "The size of the air pipe, where the page pairs it with the vent's.",
        "A column of its own: vent and air, 2 in and 3 in.", "3 in", "intake diameter; combustion air pipe size",
    ),
    "row_elbows_included": FieldHelp(
        "How many 90° elbows the length includes: the first so many cost nothing.",
        "A footnote: 'length includes two elbows'.", "2", "includes two 90° elbows",
    ),
    "row_allowed": FieldHelp(
        "The longest equivalent length: straight pipe and what the fittings deduct, added up.",
        "The body of the page.", "30 to 150 ft", "maximum equivalent vent length; maximum allowable length",
    ),
    "row_least": FieldHelp(
        "The shortest length, if the page gives one. Leave it empty if it does not.",
        "A footnote or a column of its own.", "5 ft", "minimum vent length",
    ),
    "row_elbows": FieldHelp(
        "The longest straight pipe with so many 90° elbows. A dash means not permitted.",
        "The column of that number of elbows. Two 45° elbows count as one 90°, unless the page says otherwise.",
        "70 ft with none, 65 ft with one", "maximum pipe length by number of elbows",
    ),
    "pasted": ScreenHelp(
        "What was pasted, as it is understood: the cells, and below them what was taken for granted or left out.",
        "Enter takes it, Esc leaves the table as it was. Lines kept as footnotes must be confirmed in each job.",
    ),
    "deduction": FieldHelp(
        "The equivalent length a fitting takes from the allowance: one for every size, or one by size. A fitting "
        "without one leaves a run that has it incomplete; 0 ft says that the allowance includes it.",
        "A small table or a footnote: equivalent feet of elbows, tees and terminals.",
        "5 ft for a 90° elbow, half of it for a 45°", "equivalent feet; fitting allowance; friction equivalent",
    ),
    "count_form": ScreenHelp(
        "A verdict from feet and fittings: type what stands on the rating plate and what a tape measure gives.",
    ),
    "end": FieldHelp(
        "What the pipe ends with outdoors. Tables often take some feet for a screen or a turned-down elbow.",
        "Outside, at the wall or roof. What is not in the list can be described in a job laid out (Ctrl+L).",
        "a plain open end",
    ),
    "air_pipe": FieldHelp(
        "Where the air to burn comes from. A pipe of its own has lengths and fittings of its own, and is judged too.",
        "The appliance: one pipe or two on it.", "two pipes", "one-pipe and two-pipe; direct vent",
    ),
    "air_known_by": FieldHelp(
        "How the air for burning is known: assumed as excess air, or measured as O2 or CO2. It moves the pressures, "
        "not the verdict by the table.",
        "A combustion analyser, after ten minutes at the highest rate.", "excess air 35 %",
    ),
    "settings_units": FieldHelp("The units that results are shown in. Any unit may be typed.", "Your own choice."),
    "settings_theme": FieldHelp("Colors. Nothing is told by color alone.", "Your own choice."),
    "settings_characters": FieldHelp(
        "Plain ASCII for terminals that show boxes or question marks in place of signs.", "Your own choice."
    ),
    "settings_elbow": FieldHelp(
        "The elbow that a walked route turns by; while walking, short, long or two 45s changes it from there on.",
        "What your supply house stocks.", "long turn",
    ),
    "settings_altitude": FieldHelp(
        "The height of the places you work at, filled into every new count and said there to be your usual one.",
        "A map, a phone, or the building department.", "5200 ft",
    ),
    "settings_tables": FieldHelp(
        "The folder of your own allowance tables; one that several people share will do.", "Your own choice.",
        "~/vents/tables",
    ),
    "settings_jobs": FieldHelp(
        "The folder in which a job saved under a bare name goes. The whole path is shown before anything is saved.",
        "Your own choice.", "~/vents/jobs",
    ),
    "settings_keys": ScreenHelp(
        "Every key of the program. Enter on one asks for another key. All of it is "
        "kept under [keys] in the settings file and undone by Ctrl+Z.",
        "/ searches: words of the action, of the place, or the key.",
    ),
}  # fmt: skip
