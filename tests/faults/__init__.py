"""Jobs with one hidden cause each, and how often the diagnosis finds it.

    python -m tests.faults [jobs] [seed]

The table in DEVELOPERS.md is made with a seed that was drawn after everything else was settled. The distribution, the
filter (`Kit.shows`) and the seeds stood before anything was measured with them; 41 is for working on the diagnosis.

Readings are made by the full solver on a vent whose fittings, lengths, bore, air and temperatures lie anywhere in their
ranges, with instruments that have a zero and noise. Narrow places, holes and standing water follow other formulas here
than in the diagnosis.
"""
