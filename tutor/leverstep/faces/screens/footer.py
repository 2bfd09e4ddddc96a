"""The line of keys at the foot of a screen."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from leverstep.faces.screens.keys import HELP, Deed, deeds

GAP = 2
"""Columns between two keys, as in the style sheet."""


class FooterKey(Static):
    """One key with what it does; a click does it too."""

    def __init__(self, deed: Deed) -> None:
        shown = Content.assemble((deed.keys[0], "$footer-key-foreground bold"), f" {deed.name}")
        super().__init__(shown)
        self.deed = deed
        self.tooltip = Content(deed.told)

    async def on_click(self, event: events.Click) -> None:
        """Do what the key does."""
        event.stop()
        await self.app.run_action(self.deed.action, self.deed.node)


class KeyLine(Horizontal):
    """The keys that can be used now, as many as there is room for.

    Room is given to the help first, then to what bindings show, then to what they don't.
    """

    def __init__(self) -> None:
        super().__init__()
        self._offered: list[Deed] = []

    def compose(self) -> ComposeResult:
        """Lay out the keys in the order of their bindings."""
        yield from map(FooterKey, self._offered)

    def on_mount(self) -> None:
        """Keep up with what can be done."""
        self.screen.bindings_updated_signal.subscribe(self, self.offer)

    def on_resize(self) -> None:
        """Fit the keys into the new width."""
        self.offer(self.screen)

    def offer(self, screen: Screen[object]) -> None:
        """Show the keys that there are now."""
        if screen is self.screen and self.is_attached:
            offered = fitting(deeds(screen), self.size.width)
            if offered != self._offered:
                self._offered = offered
                self.refresh(recompose=True)


def fitting(there: list[Deed], width: int) -> list[Deed]:
    """Return as many deeds as fit into a width, in their order."""
    room, taken = width, set()
    listed = (deed for deed in there if deed.listed)
    for deed in sorted(listed, key=lambda deed: (deed.ident != HELP, not deed.shown)):
        needs = len(deed.keys[0]) + 1 + len(deed.name) + GAP
        if needs <= room:
            room -= needs
            taken.add(deed.ident)
    return [deed for deed in there if deed.ident in taken]
