"""Visits to jobs with one hidden cause, with two, and with none, and how often the diagnosis finds what is hidden.

    python -m tests.faults [jobs] [seed] [processes]

A visit goes as a real one does. What takes no hole in the pipe is read at high fire (`visiting.FIRST`); then the
readings that the diagnosis itself asks for (`Diagnosis.plan`), round by round, until it asks for no more or twelve have
been taken. After that, up to three of the causes it puts first are looked for, one at a time; a look misses what is
there once in twenty times. Readings are made by the full solver on a vent whose fittings, lengths, bore, air,
temperatures and heat lost lie anywhere in their ranges, with instruments that have a zero and noise. Narrow places,
holes and standing water follow other formulas here than in the diagnosis.

A job counts where what is hidden moves one of the first readings by more than its instrument's accuracy; each of two,
beside the other. That does not depend on what the diagnosis asks for. A cause counts by the place at which it is named,
groups counted one by one; a vent called sound takes the first place. `ideal.py` judges the same readings of the same
visits.

Distribution, filter, readings and seed stood before anything was measured with them; 41, 42, 51 and 52 are for working
on the diagnosis.
"""
