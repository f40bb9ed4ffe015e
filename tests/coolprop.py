"""CoolProp, loaded at the first property asked of it: that takes seconds, and every process collects every test."""

from __future__ import annotations

from typing import Any


def __getattr__(name: str) -> Any:
    import CoolProp.CoolProp

    return getattr(CoolProp.CoolProp, name)
