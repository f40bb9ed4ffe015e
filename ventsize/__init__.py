"""ventsize: sizing of vents and combustion-air pipes of fan-assisted gas appliances."""

__version__ = "0.1.0"
