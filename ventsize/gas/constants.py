"""Constants of nature and of convention that more than one module needs. All in SI."""

from __future__ import annotations

FREEZING = 273.15  # of water in air, 0 °C [K]
GRAVITY = 9.80665  # standard gravity [m/s²], ISO 80000-3
WATER_WEIGHT = 1000.0 * GRAVITY  # of conventional water, as gauges are marked (NIST SP 811, B.8) [Pa per m]
