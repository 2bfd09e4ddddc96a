"""The field that is typed into, on every screen."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from textual import events
from textual.binding import Binding
from textual.widget import Widget
from textual.widgets import Input

from leverstep.course.plain_text import plain


async def do_at_once(widget: Widget, deeds: Mapping[str, str], event: events.Key) -> None:
    """Do at once what a key does that a widget has as its own; `deeds` are their actions.

    The toolkit types letters at once and leaves all else to the app, which comes to it later. Where
    keys come in one piece, as over a slow line, a letter after Backspace would be rubbed out.
    """
    action = deeds.get(event.key)
    if action is not None:
        event.stop()
        event.prevent_default()
        await widget.run_action(action)


class Field(Input):
    """A field that does what its keys say in the order in which they came."""

    DEEDS: ClassVar[dict[str, str]] = {
        binding.key: binding.action for binding in Binding.make_bindings(Input.BINDINGS)
    }
    """The action of each key that a field has of its own."""

    def replace(self, text: str, start: int, end: int) -> None:
        """Put in what is typed or pasted, with ? for each sign that would not be shown.

        So it is seen, and an entry refuses it.
        """
        super().replace(plain(text.expandtabs(1)), start, end)

    async def on_key(self, event: events.Key) -> None:
        """Do at once what a key of the field's own does."""
        await do_at_once(self, self.DEEDS, event)
