"""The command line: every capability without the screens, for scripts and for those who prefer it.

`verbs` lists the verbs, one module each. Imports are late throughout, so that a command loads only what it needs.
"""

from __future__ import annotations

from ventsize.cli.command import main

__all__ = ["main"]
