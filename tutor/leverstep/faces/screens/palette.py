"""The palette: what can be done on the screen below it and anywhere, found by typing its name."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from textual.command import DiscoveryHit, Hit, Hits, Provider

from leverstep.faces.screens.keys import PALETTE, Deed, deeds


class Deeds(Provider):
    """Offers the deeds of the screen that the palette was opened over."""

    def _there(self) -> Iterator[Deed]:
        return (deed for deed in deeds(self.screen) if deed.ident != PALETTE)

    async def discover(self) -> Hits:
        """Yield everything, before anything is typed."""
        for deed in self._there():
            yield DiscoveryHit(deed.name, self._doing(deed), deed.name, _help(deed))

    async def search(self, query: str) -> Hits:
        """Yield what is called so, or is told in these words."""
        matcher = self.matcher(query)
        for deed in self._there():
            score = matcher.match(deed.name)
            if score > 0:
                shown = matcher.highlight(deed.name)
                yield Hit(score, shown, self._doing(deed), deed.name, _help(deed))
            elif query.casefold() in deed.told.casefold():
                yield Hit(0, deed.name, self._doing(deed), deed.name, _help(deed))

    def _doing(self, deed: Deed) -> Callable[[], object]:
        return partial(self.app.run_action, deed.action, deed.node)


def _help(deed: Deed) -> str:
    return f"{deed.told} ({' or '.join(deed.keys)})"
