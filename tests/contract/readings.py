"""Where the contract can be read in two ways: what is taken, and what the name stands for when it is eased.

Taken without a name, since there was no way to ask: two inputs are one figure within 1e-7 of it, and two sizes within
a hundredth of an inch; a pipe's own size is that pipe's alone; a joint costs what the table says of
tee-through, tee-branch, wye-through or wye; limits hold in whole ways and for the actual pipe, whatever counts_as
says; the coldest day is asked for only where pipe is exposed; a limit of either pipe's table that compares the two
holds; a run that names no table is judged by the only one the job lists; of the two rows around an input each is
judged with the elbows it includes.
"""

from __future__ import annotations

READINGS = {
    "any open row asks": "no end listed: any row of this size and altitude that names ends makes it incomplete; eased: "
    "only where an end could change the row",
    "exact input of this size": "rows for exactly this input forbid neighbours whatever their size or band; eased: "
    "only rows of this size and altitude do",
    "two rows anywhere": "two rows that could hold for one case are an error of the table for every job; eased: only "
    "for a job that meets both",
    "band is a condition": "a band is no condition: a row with a band and one without are two rows for one case; "
    "eased: the band makes its row the one that says more",
    "an end for every part": "a run that does not reach outdoors has no listed end; eased: it has that of its ways out",
    "tees are no elbows": "a tee or wye that turns the gas counts as an elbow, in elbow-count rows and among "
    "most_elbows; eased: only where elbows_each says so",
    "pairs over the way": "per_two is counted run by run; eased: over the whole way",
    "minimum by equivalent length": "the minimum is of straight pipe as it stands; eased: of equivalent length",
    "minimum of the sum": "runs together: each of the two ways reaches the minimum; eased: their sum does",
    "pitch is no rise": "a sloped pipe that goes up counts in whole among longest_rise; eased: only headings up do",
    "air goes up as listed outward": "air: the larger of what goes up outward and what goes up inward; eased: outward",
    "turns within a run": "a turn is looked for along the whole way, the joint's own turn included; eased: in each run",
    "mixed sizes may be the same": "same_size: one size in both pipes; eased: the same sizes, in each of them several",
    "a room answers for runs together": "a [[room]] does not say where the air comes from on a table that counts runs "
    "together; eased: it does",
    "size change by the gas": "between runs the larger of the figures for increaser and reducer; eased: the one "
    "that the gas meets",
    "included in each run": "runs together: elbows_included once for both; eased: for each",
    "air by its own table": "runs together: an air run by another table, or none, is incomplete; eased: its own table",
    "one figure is enough at a change of size": "both sizes need a figure; eased: one will do",
    "an end that counts as elbows is no charge": "an end in elbows_each is one the table charges for, so that another "
    "end without a word is incomplete; eased: only deductions are charges",
    "size changes between runs cost in runs together": "a change of size between two runs of a way is charged as the "
    "increaser or reducer it needs; eased: only on a table that counts runs together",
    "no figure for this size": "in an elbow-count row a fitting with figures for other sizes only is incomplete; "
    "eased: it costs nothing",
    "material from here on": "a material given on a piece is that piece's; eased: of all that are listed after it too",
    "elbows deducted in plain rows only": "in a table of both kinds of rows an elbow with a deduction is counted and "
    "deducted in the elbow-count rows; eased: only counted there",
    "own share": "shares: a change of size goes to the size with the shorter allowance; eased: to the size behind it",
    "pressure rows deduct nothing": "a fitting with no deduction is incomplete in a pressure row too; eased: not there",
    "given length only where deducted": "table_length adds to the straight length in an elbow-count row; eased: not",
    "each run by its own table": "a way over several tables is charged by each of them in whole; eased: each run "
    "by its own",
    "a later elbow may still be included": "the first elbow that does not fit ends what is included; eased: not",
    "exposed size by size": "exposed pipe of a way adds up against the least of its rows; eased: each row its own",
}
