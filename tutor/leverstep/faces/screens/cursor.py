"""Where the terminal's cursor lies: at the focus, since braille displays and readers follow it.

Textual hides the cursor, and moves it in fields only.
"""

from __future__ import annotations

from typing import Any

from textual.command import CommandInput, CommandList
from textual.geometry import Offset
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Input, OptionList, Static


def cursor_place(screen: Screen[Any]) -> Offset:
    """Return where the eye is meant to be on a screen.

    That is the caret in a field, the first letter of the row that is lit in a list, and else the
    beginning of what has the focus, or of the first text. A widget with a caret of its own tells
    it as `cursor_screen_offset`, as Textual's fields do.
    """
    focused = screen.focused
    if focused is None:
        texts = screen.query(Static).results()
        focused = next((text for text in texts if text.visible and text.region), None)
    if focused is None:
        return Offset(0, 0)
    if isinstance(focused, CommandInput):
        commands = screen.query_one(CommandList)
        if commands.highlighted:  # the first is lit before any is chosen
            return _lit_row(commands)
    if isinstance(focused, OptionList):
        return _lit_row(focused)
    if isinstance(focused, Input) and focused.cursor_at_end:
        return focused.cursor_screen_offset - Offset(1, 0)  # Textual's is one behind the caret
    place = getattr(focused, "cursor_screen_offset", None)
    return place if isinstance(place, Offset) else _beginning(focused)


def _beginning(widget: Widget) -> Offset:
    """Return where the content of a widget begins, on the screen."""
    return widget.content_region.offset


def _lit_row(listed: OptionList) -> Offset:
    """Return where the text of the row that is lit begins, on the screen."""
    for y in range(listed.content_size.height):
        strip = listed.render_line(y)
        lit = {segment.style.meta.get("option") for segment in strip if segment.style}
        if listed.highlighted is not None and listed.highlighted in lit:
            indent = len(strip.text) - len(strip.text.lstrip())
            return _beginning(listed) + Offset(indent, y)
    return _beginning(listed)
