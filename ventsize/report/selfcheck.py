"""Published values beside those of this machine, as text and as objects."""

from __future__ import annotations

import platform
from collections.abc import Sequence
from importlib.metadata import PackageNotFoundError, version
from typing import Any

from ventsize import __version__
from ventsize.report.keys import Keys
from ventsize.studies.selfcheck import Known, Verified

_LIBRARIES = ("chemicals", "fluids", "ht", "numpy", "pint", "pydantic", "scipy", "textual")


def render(found: Sequence[Verified]) -> str:
    """A line each, those that are off with what is wrong; then whether all is well."""
    lines = [line for one in found for line in _lines(one)]
    off = sum(not one.agrees for one in found)
    if off:
        said = f"{off} of {len(found)} values are not as published: do not rely on results of this installation."
    else:
        said = f"All {len(found)} published values are found on this machine."
    return "\n".join([*lines, "", said, _where()])


def as_object(found: Sequence[Verified]) -> dict[str, Any]:
    """The same for JSON."""
    return {
        "version": __version__,
        "python": platform.python_version(),
        "libraries": _versions(),
        "values": [{**_KNOWN(one.known), **_VERIFIED(one)} for one in found],
    }


_KNOWN = Keys(Known, "what unit source published tolerance")
_VERIFIED = Keys(Verified, "found agrees fault")


def _lines(one: Verified) -> list[str]:
    mark = "as published" if one.agrees else "NOT AS PUBLISHED"
    found = "-" if one.found is None else f"{one.found:.6g}"
    unit = "" if one.known.unit == "-" else f" {one.known.unit}"
    lines = [f"{one.known.what}: {found}{unit}, {mark} ({one.known.published:.6g}; {one.known.source})"]
    return [*lines, f"  {one.fault}"] if one.fault else lines


def _where() -> str:
    libraries = ", ".join(f"{name} {number}" for name, number in _versions().items())
    return f"ventsize {__version__}, Python {platform.python_version()}; {libraries}"


def _versions() -> dict[str, str]:
    found = {}
    for name in _LIBRARIES:
        try:
            found[name] = version(name)
        except PackageNotFoundError:
            found[name] = "not installed"
    return found
