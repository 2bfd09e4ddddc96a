"""What drives the full screen in tests: keys, and waiting until it has done what they ask."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Hashable
from time import monotonic
from typing import Any
from unittest import mock
from weakref import WeakSet

import textual.app
import textual.css.stylesheet
import textual.pilot
from textual._compositor import Compositor
from textual._context import active_app
from textual.css.model import RuleSet
from textual.geometry import Region
from textual.pilot import Pilot
from textual.screen import Screen

MOST_SECONDS = 10

_parse = textual.css.stylesheet.parse
_parsed: dict[Hashable, list[RuleSet]] = {}


def parsed_once(
    scope: str, css: str, *place: Any, variable_tokens: dict[str, list[Any]], **more: Any
) -> list[RuleSet]:
    """Return the rules of a style sheet, which textual would read anew for every app."""
    variables = tuple((name, *tokens) for name, tokens in variable_tokens.items())
    asked = (scope, css, place, variables, tuple(more.items()))
    if asked not in _parsed:
        _parsed[asked] = list(_parse(scope, css, *place, variable_tokens=variable_tokens, **more))
    return _parsed[asked]


_paint = Screen._compositor_refresh
_unpainted: WeakSet[Screen[Any]] = WeakSet()


def rendered(compositor: Compositor, crop: Region, _: Callable[[int], bool]) -> list[Any]:
    """Have all widgets rendered that are to be painted, and nothing cut to cells of a terminal."""
    for _ in compositor._get_renders(crop):
        pass
    return []


def paint(screen: Screen[Any]) -> None:
    """Paint a screen but for the last step, whose result textual drops where no terminal is."""
    with mock.patch.object(Compositor, "_render_chops", rendered):
        _paint(screen)


def painted_at_rest(screen: Screen[Any]) -> None:
    """Have a screen painted once the app is at rest: nobody looks at what is there before."""
    _unpainted.add(screen)


async def at_rest(least: float = 0, most: float = MOST_SECONDS) -> None:
    """Wait until the event loop of the app has nothing left to do, and the screen is painted.

    What runs in a thread or waits for a time is not waited for. `least` and `most` are what textual
    says where it waits: seconds at least, which are nothing here, and at most.
    """
    app, ready = active_app.get(), asyncio.get_running_loop()._ready  # type: ignore[attr-defined]
    deadline = monotonic() + max(least, most)
    while monotonic() < deadline:
        await asyncio.sleep(0)
        if ready:
            continue
        if app._resize_timer is not None:
            app._check_resize()
        elif app.screen_stack and app.screen._update_timer._active.is_set():
            app.screen._on_timer_update()
        elif unpainted := _unpainted.intersection(app.screen_stack):
            for screen in unpainted:
                _unpainted.discard(screen)
                paint(screen)
        else:
            return


async def foremost_done(pilot: Pilot[Any], timeout: float = 30) -> bool:
    """Wait until the app, its screen and what has the focus are through with what they were sent.

    Return whether they are. Textual's own asks every widget, though few have been sent anything.
    """
    app = pilot.app
    waits: list[asyncio.Future[Any]] = [asyncio.create_task(app._exception_event.wait())]
    reached = []
    for pump in (app, app.screen, app.focused) if app.screen_stack else ():
        event = asyncio.Event()
        if pump is not None and pump.call_later(event.set):
            reached.append(event.wait())
    waits.append(asyncio.gather(*reached))
    done, _ = await asyncio.wait(waits, timeout=timeout, return_when=asyncio.FIRST_COMPLETED)
    assert done, "what is at hand takes too long"
    for one in waits:
        one.cancel()
    return not app._exception_event.is_set()


Screen._compositor_refresh = painted_at_rest  # type: ignore[method-assign]
textual.css.stylesheet.parse = parsed_once  # type: ignore[assignment]
RuleSet.__hash__ = object.__hash__  # type: ignore[method-assign]
"""Textual's own is the identity too, but slow, and asked hundreds of times for each widget."""
Pilot._wait_for_screen = foremost_done  # type: ignore[method-assign]
textual.app.wait_for_idle = textual.pilot.wait_for_idle = at_rest
"""Textual's own looks every 20 ms whether the processor is at rest, several times for each key."""


async def settle(pilot: Pilot[int]) -> None:
    """Wait until no worker runs, nor one that followed from it, and the screen is painted."""
    deadline = monotonic() + MOST_SECONDS
    quiet = 0
    while quiet < 2:
        assert monotonic() < deadline
        await pilot.pause()
        runs = any(not worker.is_finished for worker in pilot.app.workers)
        quiet = 0 if runs else quiet + 1
        await asyncio.sleep(0.001 if runs else 0)


async def press(pilot: Pilot[int], *keys: str) -> None:
    """Press some keys, and wait for what comes of each; letters and digits are typed on."""
    for key, after in zip(keys, (*keys[1:], ""), strict=True):
        await pilot.press(key)
        if len(key) > 1 or len(after) != 1:
            await settle(pilot)
