"""The styles of a screen, read when it is loaded: the first one waits for no other."""

from __future__ import annotations

from importlib.resources import files


def styles(name: str) -> str:
    """Return the styles of a file beside this one; in one file that a room runs it has no path."""
    return (files("leverstep.faces.screens") / f"{name}.tcss").read_text(encoding="utf-8")
