"""The help: which keys there are, and how an entry is written."""

from __future__ import annotations

from collections.abc import Mapping
from textwrap import fill
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

_WIDTH = 72
"""Columns of a line of text here."""

WRITING = """\
How to write a line
  12.3 N   0.205 m   -4.5 N·m   48.5 deg   a number with its unit
  18.0 / 2.205 * 9.81 N                   or the arithmetic that gives it
  F_m*d_m - W_l*d_l = 0                    a moment equation, in symbols
  sqrt  sin  cos  tan  asin  acos  atan    angles are in degrees
  N m, Nm or N·m; × or *; ÷ or /. Give three significant figures or more.

How far you are led: F5 among the problems
  every line   you are asked for one line after the other
  landmarks    only the main results; the lines between are up to you
  blank sheet  you decide which lines to write
  Where you decide, a line says itself what it is: W_f = 15.6 N, or a word
  such as third, or an equation with one unknown: 0 = -8.2 + 0.042*F_m.
  For the landmark that is asked for, its value alone will do.

Keys while you work
  Enter  check the line             F2  next hint, up to three for an entry
  ↑ ↓    go to another line         F3  leave this line and go on
  F5     diagram or statement       F4  return to the line to be done
  PgDn PgUp  scroll the text        F6  light or dark
  F8     what is still missing, where you decide which lines to write
  Esc    home; all is kept          Ctrl+Q  quit; all is kept

Keys in a drill
  F9 F7  next task, task before     Esc     leave for now; the clock stands still
  F10    hand in                    Ctrl+O  the record in another folder

What the margin says
  ✓ ok         right
  ✓ follows    right with your own earlier value, which is not right yet
  ✗ not yet    not right yet; what it looks like is told below the line
  » left       left for later; ↑ goes back to it
  • taken      kept; what came of it is told when the drill is handed in
  [W_l]        in the diagram: what the line at hand is about

Keys among the problems
  F2           sit a drill
  ↑ ↓ Enter    choose and open      Tab  to the numbers and back
  F3 joint   F4 level   F7 class of lever   F8 units   F9 what is asked
  F5           how far you are led
  F10          your progress: what was practised, and what is next
  Esc    all problems
  Numbers: what is typed there gives the same numbers each time.
"""


class HelpScreen(ModalScreen[None]):
    """The help, over the screen that it was asked from."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "escape,f1,enter", "app.pop_screen", "Close", id="help.close", tooltip="Close the help"
        ),
    ]

    def __init__(self, text: str = WRITING) -> None:
        super().__init__()
        self._text = text

    def compose(self) -> ComposeResult:
        """Lay out the text."""
        with Vertical(id="help"):
            with VerticalScroll():
                yield Static(self._text, markup=False)
            yield Static("Esc closes this", id="help-foot", markup=False)


class MissingScreen(HelpScreen):
    """What is still to find and the lines that lead there, over the working."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f8", "app.pop_screen", "Close", id="missing.close", tooltip="Close this"),
    ]

    def __init__(self, missing: Mapping[str, Mapping[str, str]]) -> None:
        super().__init__("\n\n".join(_listed(*part) for part in missing.items()))


def _listed(heading: str, lines: Mapping[str, str]) -> str:
    """Return a heading with lines beneath, each with its name before it."""
    told = [
        fill(asks, _WIDTH, initial_indent=f"  {name:<11}", subsequent_indent=" " * 13)
        for name, asks in lines.items()
    ]
    return "\n".join([heading, *told])
