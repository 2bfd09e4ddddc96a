"""What drives the full screen in tests: keys, and waiting until it has done what they ask."""

from __future__ import annotations

from time import monotonic

from textual.pilot import Pilot


async def settle(pilot: Pilot[int]) -> None:
    """Wait until no worker runs, nor one that followed from it, and the screen is painted."""
    deadline = monotonic() + 10
    quiet = 0
    while quiet < 2:
        assert monotonic() < deadline
        await pilot.pause()
        runs = any(not worker.is_finished for worker in pilot.app.workers)
        quiet = 0 if runs else quiet + 1


async def press(pilot: Pilot[int], *keys: str) -> None:
    """Press some keys, and wait for what comes of them."""
    await pilot.press(*keys)
    await settle(pilot)
