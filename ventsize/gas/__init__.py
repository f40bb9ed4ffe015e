"""What flows: atmosphere, combustion, flue gas and air properties, condensation."""
