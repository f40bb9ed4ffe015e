"""Files made up to break what reads them: `python -m tests.fuzz` runs as many as are asked for."""
