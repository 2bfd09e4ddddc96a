"""Where a drill is chosen: those in the student's and the teacher's folders, or by a path."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from tutor.course.places import home, own_folders
from tutor.course.shelf import Shelf
from tutor.screens.asides import LONGEST_PATH
from tutor.screens.door import DoorScreen
from tutor.screens.footer import KeyLine
from tutor.screens.opening import Entrance
from tutor.screens.room import TooSmall


class DrillsScreen(Screen[None]):
    """Lists the drills there are, with a field for the path of any other."""

    AUTO_FOCUS = "#path"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "app.home", "Home", id="drills.home",
            tooltip="Go back to the problems"),
    ]  # fmt: skip

    def __init__(self, shelf: Shelf) -> None:
        super().__init__()
        self._shelf = shelf
        self._paths = drills_there_are()

    def compose(self) -> ComposeResult:
        """Lay out the field and the list."""
        yield Static("Sit a drill", id="title", markup=False)
        yield Static("The path of its file, then Enter", id="asks", markup=False)
        yield Input(id="path", compact=True, select_on_focus=False, max_length=LONGEST_PATH)
        yield Static(id="whose", markup=False)
        options = [Option(f"  {path.stem}   {path.parent}") for path in self._paths]
        listed = OptionList(*options, id="choices", markup=False, compact=True)
        listed.display = bool(self._paths)
        yield listed
        yield KeyLine()
        yield TooSmall()

    def on_mount(self) -> None:
        """Go to the list where there is one."""
        if self._paths:
            self.query_one("#whose", Static).update("Or one of these; Tab leads to them and back:")
            self.query_one("#choices", OptionList).focus()

    @on(Input.Submitted)
    def open_path(self, event: Input.Submitted) -> None:
        """Open the drill at a path."""
        event.stop()
        typed = event.value.strip().strip('"')
        if typed:
            self._open(Path(typed).expanduser().absolute())

    @on(OptionList.OptionSelected)
    def open_chosen(self, event: OptionList.OptionSelected) -> None:
        """Open a drill of the list."""
        event.stop()
        self._open(self._paths[event.option_index])

    def _open(self, path: Path) -> None:
        self.app.push_screen(DoorScreen(Entrance(path), self._shelf))


def drills_there_are() -> list[Path]:
    """Return the drills in the user's data folder and in the teacher's own folders."""
    folders = [home() / "drills", *own_folders("drills")]
    return [path for folder in folders for path in sorted(folder.glob("*.toml"))]
