"""The styles of a screen, read when it is loaded: the first one waits for no other."""

from __future__ import annotations

from pkgutil import get_data


def styles(name: str) -> str:
    """Return the styles of a file beside this one; in one file that a room runs it has no path."""
    data = get_data("leverstep.faces.screens", f"{name}.tcss")
    assert data is not None
    return data.decode()
