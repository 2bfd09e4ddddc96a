"""What drives the full screen in tests: keys, and waiting until it has done what they ask."""

from __future__ import annotations

from time import monotonic

from textual.pilot import Pilot


async def settle(pilot: Pilot[int]) -> None:
    """Wait until no worker runs and the screen is painted."""
    deadline = monotonic() + 10
    await pilot.pause()
    while any(not worker.is_finished for worker in pilot.app.workers):
        assert monotonic() < deadline
        await pilot.pause()
    await pilot.pause()


async def press(pilot: Pilot[int], *keys: str) -> None:
    """Press some keys, and wait for what comes of them."""
    await pilot.press(*keys)
    await settle(pilot)
