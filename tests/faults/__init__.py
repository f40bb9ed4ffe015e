"""Jobs with one hidden cause each, and how often the diagnosis finds it.

    python -m tests.faults [jobs] [seed]

Readings are made by the full solver on a vent whose fittings, lengths, bore, air and temperatures lie anywhere in their
ranges, with instruments that have a zero and noise. Narrow places, holes and standing water follow other formulas here
than in the diagnosis.
"""
