"""Where a drill is chosen: those not handed in, those in folders known here, or by a path."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from leverstep.course.libraries import Libraries
from leverstep.course.places import home, path_typed
from leverstep.course.plain_text import plain
from leverstep.drill.begun import drills_begun
from leverstep.drill.exceptions import EXCEPTIONS
from leverstep.drill.pins_file import PINS
from leverstep.faces.screens.asides import LONGEST_PATH
from leverstep.faces.screens.door import DoorScreen
from leverstep.faces.screens.entrances import Entrance
from leverstep.faces.screens.field import Field
from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.room import TooSmall
from leverstep.faces.screens.styles import styles
from leverstep.faces.screens.visit import Visit

_LISTED = "Or one of these; Tab moves to them and back:"
_LOOKING = "Looking for drills in the folders known here …"
_MOST = 3
"""So many faults of a file are told to a student."""


class DrillsScreen(Screen[None]):
    """Lists the drills there are, with a field for the path of any other."""

    CSS = styles("drills")
    SCOPED_CSS = False
    AUTO_FOCUS = "#path"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "app.home", "Home", id="drills.home",
            tooltip="Go back to the problems"),
    ]  # fmt: skip

    @dataclass
    class Found(Message):
        """The drills there are have been looked for: what is shown of each, and what it opens."""

        listed: list[tuple[str, Entrance]]

    def __init__(self, visit: Visit, typed: str = "", reason: str = "") -> None:
        """Ask for a drill; `typed` stands in the field, `reason` says why that can't be opened."""
        super().__init__()
        self._visit = visit
        self._typed = typed
        self._reason = reason
        self._listed: list[tuple[str, Entrance]] | None = None

    def compose(self) -> ComposeResult:
        """Lay out the field and the list."""
        yield Static("Sit a drill", id="title", markup=False)
        yield Static("The path of its file, then Enter", id="asks", markup=False)
        yield Field(
            self._typed, id="path", compact=True, select_on_focus=False, max_length=LONGEST_PATH
        )
        yield Static(id="whose", markup=False)
        listed = OptionList(id="choices", markup=False, compact=True)
        listed.display = False
        yield listed
        yield KeyLine()
        yield TooSmall()

    def on_mount(self) -> None:
        """Look for drills beside the screen; a path can be typed meanwhile."""
        self._tell(self._reason)
        self.look_for_drills()

    @work(thread=True, group="drills")
    def look_for_drills(self) -> None:
        """Look into the folders there are, one of which may be a share that takes its time."""
        self.post_message(self.Found(list(_drills_there_are(self._visit.material.libraries))))

    @on(Found)
    def list_drills(self, event: Found) -> None:
        """List the drills; go to the list where nothing is typed, or to be mended, in the field."""
        event.stop()
        self._listed = event.listed
        self._tell(self._reason)
        choices = self.query_one("#choices", OptionList)
        choices.add_options(Option(plain(shown)) for shown, _ in event.listed)
        choices.display = bool(event.listed)
        choices.action_first()
        if event.listed and not self._reason and not self.query_one("#path", Input).value:
            choices.focus()

    def _tell(self, reason: str) -> None:
        """Say why a drill can't be opened, "" for nothing, and what the list is or will be."""
        self._reason = reason
        first, rest = reason.splitlines()[:_MOST], reason.splitlines()[_MOST:]
        told = ["This drill can't be opened:", *first, *(["…"] if rest else []), ""]
        listed = [_LOOKING] if self._listed is None else [_LISTED] if self._listed else []
        self.query_one("#whose", Static).update("\n".join((told if reason else []) + listed))

    @on(Input.Submitted)
    def open_path(self, event: Input.Submitted) -> None:
        """Open the drill at a path."""
        event.stop()
        if event.value.strip():
            self._open(Entrance(path_typed(event.value)))

    @on(OptionList.OptionSelected)
    def open_chosen(self, event: OptionList.OptionSelected) -> None:
        """Open a drill of the list."""
        event.stop()
        assert self._listed is not None, "nothing is listed before"
        self.query_one("#path", Input).value = ""
        self._open(self._listed[event.option_index][1])

    def _open(self, entrance: Entrance) -> None:
        field = self.query_one("#path", Input)

        def refused(reason: str | None) -> None:
            field.value = field.value or str(entrance.path)
            field.focus()
            self._tell(reason or "")

        self.app.push_screen(DoorScreen(entrance, self._visit), refused)


def _drills_there_are(libraries: Libraries) -> Iterator[tuple[str, Entrance]]:
    """Yield drills with what is shown of each.

    First those that are not handed in, then those in the user's data and a teacher's own folders.
    """
    for begun in drills_begun():
        place = f"records in {begun.folder}" if begun.folder else str(begun.path.parent)
        yield f"  {begun.title}, not handed in   {place}", Entrance(begun.path, "", begun.folder)
    for folder in [home() / "drills", *libraries.folders("drills")]:
        for path in sorted(folder.glob("*.toml")):
            if path.name in (EXCEPTIONS, PINS):
                continue
            yield f"  {path.stem}   {path.parent}", Entrance(path)
