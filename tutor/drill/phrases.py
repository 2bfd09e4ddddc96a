"""Phrases about a drill that are said in several places."""

from __future__ import annotations

from datetime import datetime, tzinfo


def moment(when: datetime, zone: tzinfo | None = None) -> str:
    """Return a moment with its offset; in the time of this computer unless a zone is given."""
    local = when.astimezone(zone)
    offset = f"{local:%z}"
    return f"{local:%d %B %Y at %H:%M} (UTC{offset[:3]}:{offset[3:5]})"


def times(number: int) -> str:
    """Return how often: `once`, `twice`, `3 times`."""
    return {1: "once", 2: "twice"}.get(number, f"{number} times")
