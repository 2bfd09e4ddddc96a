"""A list that is searched by typing, while it is gone through with the arrows."""

from __future__ import annotations

from dataclasses import dataclass

from textual import events
from textual.message import Message
from textual.widgets import OptionList

from leverstep.course.plain_text import plain


class SearchedList(OptionList):
    """Tells what is typed over it, for who fills it to search by."""

    @dataclass
    class TypedAhead(Message):
        """A text was typed, or a letter taken back with Backspace, which is told as its sign."""

        text: str

    def on_key(self, event: events.Key) -> None:
        """Take letters and Backspace; all other keys do what they always do."""
        if event.key == "backspace":
            typed = "\b"
        elif event.is_printable and event.character:
            typed = event.character
        else:
            return
        event.stop()
        event.prevent_default()
        self.post_message(self.TypedAhead(typed))

    def on_paste(self, event: events.Paste) -> None:
        """Search for what is pasted, its first line."""
        event.stop()
        if lines := event.text.strip().splitlines():
            self.post_message(self.TypedAhead(plain(lines[0])))
