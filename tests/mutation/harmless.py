"""Faults that change no answer, each with the reason; the score leaves them out."""

from __future__ import annotations

HARMLESS: dict[tuple[str, str], str] = {
    ("gas/condensation.py", "if condensed < 0.0:"): "with nothing condensed the mixture is made again, as it was",
    (
        "gas/condensation.py",
        "if temperature > gas_table().liquid_water.critical_temperature:",
    ): "at the critical point itself the saturation pressure is far above that of any vent",
    ("gas/water.py", "if pressure > _TRIPLE_PRESSURE:"): "both equations give the triple point there",
}
