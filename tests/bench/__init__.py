"""How fast ventsize is, against yardsticks timed in the same run: `python -m tests.bench`."""
