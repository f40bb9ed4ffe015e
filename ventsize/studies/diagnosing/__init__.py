"""What readings on a vent mean: the parts of the studies `readings` and `diagnosis`."""
