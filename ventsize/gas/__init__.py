"""What flows: atmosphere, combustion, flue gas and air properties, condensation. Pure functions on SI floats."""
