"""The help: what can be done on a screen, and what else there is to know about it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from textwrap import fill
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen, Screen
from textual.widgets import Static

from leverstep.dialogue.free_ways import ways_to_write
from leverstep.entry.forms import FORMS, NOTES
from leverstep.faces.screens.caution import Caution
from leverstep.faces.screens.keys import Deed, deeds
from leverstep.faces.screens.styles import styles
from leverstep.working.cautions import CAUTION, CAUTION_IN_SHORT
from leverstep.working.guidance import Guidance
from leverstep.working.working import Working

_WIDTH = 72
"""Columns of a line of text here."""

FOR_NEW = ("app.terms", "app.tour")
"""The ids of what helps a student who is new here, named where help can't be overlooked."""

_COLUMN = 39
"""Columns of the examples of a line of writing, up to what they show."""

WRITING = "\n  ".join(
    [
        "How to write a line",
        *(f"{'  '.join(forms):{_COLUMN}}{shows}" for forms, shows in FORMS),
        *NOTES,
        "Tab completes a symbol that is begun: F and Tab for F_m.",
    ]
)

_FREE = "Where you decide which lines to write"

_PAGE = """\
Your page
  A line is checked, or saved, when you leave it: with Enter, which goes
  to a new line, with the arrows, a click or Tab. Any line may be changed
  at any time, and is checked again when you leave it. A line that you
  delete is still kept. Tab goes to the remarks below the page, and back."""

_PAGE_MARGIN = """\
What the margin says
  ✓  right
  ⇒  right with your own earlier value, which is not right yet
  ✗  not right yet; the remark on the line says why
  »  not right, and skipped for now
  ?  not judged
  =  another line says the same
  !  not saved yet
  A line without a sign is a remark, was replaced by a later one, or is
  not left yet."""

_PAGE_TAKEN = """\
What the margin says
  •  saved: you are told whether it is right once you hand in
  ?  not judged
  =  another line says the same
  !  not saved yet
  A line without a sign was replaced by a later one, or is not left yet."""

_MARGIN = """\
What the margin says
  ✓ ok         right
  ⇒ follows    right with your own earlier value, which is not right yet
  ✗ not yet    not right yet; the sentence below the line says why
  ✗ not right  the same, with no tries left
  » skipped    for later; Shift+Tab goes back to it"""

_TAKEN = """\
What the margin says
  • saved      you are told whether it is right once you hand in
  » skipped    for later; Shift+Tab goes back to it"""

_FOCUS = """\
In the diagram, [W_l] is what this line is about, and F_m ? is to be found;
what has no arrow only shows the posture."""


def on_working(working: Working) -> str:
    """Return what there is to know of a working, as far as the student is led and told in it."""
    guidance, tells = working.guidance, working.rules.tells
    margin = _MARGIN if tells else _TAKEN
    free = page = ""
    if guidance.free:
        landmark = "For the landmark that is asked for, its value alone will do."
        told = ways_to_write(working)
        free = sentences(_FREE, told if guidance is Guidance.BLANK else (*told, landmark))
    if guidance is Guidance.BLANK:
        page, margin = _PAGE, _PAGE_MARGIN if tells else _PAGE_TAKEN
    parts = (WRITING, free, page, margin, _FOCUS)
    return "\n\n".join(part for part in parts if part)


def sentences(heading: str, told: Iterable[str]) -> str:
    """Return a heading with sentences beneath, each on lines of its own."""
    return _table(heading, [("", one) for one in told])


class ReadScreen(ModalScreen[None]):
    """A text to be read, over the screen that it was asked from; the caution stands below it."""

    CSS = styles("read")
    SCOPED_CSS = False
    caution = CAUTION_IN_SHORT
    foot = "Esc closes this; ↑ ↓ scroll"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter", "dismiss", "Close", id="read.close", tooltip="Close this"),
    ]

    def __init__(self, parts: Iterable[str]) -> None:
        super().__init__()
        self._text = "\n\n".join(part for part in parts if part)

    def compose(self) -> ComposeResult:
        """Lay out the text."""
        with Vertical(id="help"):
            with VerticalScroll():
                yield Static(self._text, markup=False)
            yield Caution(self.caution)
            yield Static(self.foot, id="help-foot", markup=False)


class HelpScreen(ReadScreen):
    """What can be done on a screen, made from its bindings, and that screen's own `help_text`."""

    caution = CAUTION

    def __init__(self, asked_from: Screen[Any]) -> None:
        there = deeds(asked_from)
        here = [deed for deed in there if not deed.general]
        anywhere = [deed for deed in there if deed.general]
        own = getattr(asked_from, "help_text", "")
        keys = (_keys("Keys here", here), own, _keys("Keys anywhere", anywhere))
        super().__init__(keys)
        more = [f"{deed.keys[0]} {deed.name.lower()}" for deed in there if deed.ident in FOR_NEW]
        self.foot = " · ".join([self.foot, *more])


class MissingScreen(ReadScreen):
    """What is still to find and the lines that lead there, over the working."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f8", "dismiss", "Close", id="read.close", tooltip="Close this"),
    ]

    def __init__(self, missing: Mapping[str, Mapping[str, str]]) -> None:
        super().__init__(_listed(*part) for part in missing.items())


def _listed(heading: str, lines: Mapping[str, str]) -> str:
    """Return a heading with lines beneath, each with its name before it."""
    return _table(heading, [(f"{name:<11}", asks) for name, asks in lines.items()])


def _keys(heading: str, listed: list[Deed]) -> str:
    """Return what some keys do, under a heading; "" where there are none."""
    wide = max((len(deed.name) for deed in listed), default=0)
    rows = [(f"{', '.join(d.keys):<13} {d.name:<{wide}}  ", d.told) for d in listed]
    return _table(heading, rows) if rows else ""


def _table(heading: str, rows: list[tuple[str, str]]) -> str:
    """Return a heading with rows beneath; what is told in a row stays beside its name."""
    told = [
        fill(text, _WIDTH, initial_indent=f"  {name}", subsequent_indent=" " * (2 + len(name)))
        for name, text in rows
    ]
    return "\n".join([heading, *told])
