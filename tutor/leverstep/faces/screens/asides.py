"""What lies over a sitting of a drill for a moment: handing in, another folder, being away."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.message import Message
from textual.screen import ModalScreen, Screen
from textual.widgets import Input, Static

from leverstep.bench.record import RecordError, folder_named
from leverstep.course.phrases import sentence
from leverstep.faces.screens.field import Field
from leverstep.faces.screens.room import TooSmall
from leverstep.faces.screens.styles import styles

LONGEST_PATH = 1000


class ConfirmScreen(ModalScreen[bool]):
    """Asks once whether to hand in."""

    CSS = styles("aside")
    SCOPED_CSS = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "enter",
            "answer(True)",
            "Hand in",
            id="confirm.yes",
            tooltip="Hand in now; nothing can be changed after that",
        ),
        Binding(
            "escape",
            "answer(False)",
            "Back",
            id="confirm.no",
            tooltip="Go back to the tasks; nothing is handed in",
        ),
    ]

    def __init__(self, told: str) -> None:
        super().__init__()
        self._told = told

    def compose(self) -> ComposeResult:
        """Lay out the question and its keys."""
        with Vertical(id="aside"):
            yield Static(f"{self._told}\n", markup=False)
            yield Static("Enter  hand in\nEsc    go back", markup=False)

    def action_answer(self, answer: bool) -> None:
        """Close with an answer."""
        self.dismiss(answer)


class FolderScreen(ModalScreen[Path]):
    """Asks for another folder for the record, one that there is."""

    CSS = styles("aside")
    SCOPED_CSS = False
    AUTO_FOCUS = "#path"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back", id="folder.back", tooltip="Leave the record where it is"),
    ]

    @dataclass
    class Looked(Message):
        """It is known whether there is the folder that was typed."""

        folder: Path | None
        reason: str = ""

    def __init__(self, place: str) -> None:
        super().__init__()
        self._place = place

    def compose(self) -> ComposeResult:
        """Lay out where the record lies, and the field."""
        with Vertical(id="aside"):
            yield Static(f"The record is at {self._place}\n", markup=False)
            yield Static("Another folder for it, such as one on a stick:", markup=False)
            yield Field(id="path", compact=True, select_on_focus=False, max_length=LONGEST_PATH)
            yield Static(id="trouble", markup=False)
            yield Static("Enter  go on there, with all lines so far\nEsc    go back", markup=False)

    @on(Input.Submitted)
    def choose(self, event: Input.Submitted) -> None:
        """Look for the folder that was typed."""
        event.stop()
        if event.value.strip():
            self.look_for(event.value)

    @work(thread=True, exclusive=True, group="folder")
    def look_for(self, typed: str) -> None:
        """Look beside the screen, since a share may take its time."""
        try:
            self.post_message(self.Looked(folder_named(typed)))
        except RecordError as error:
            self.post_message(self.Looked(None, sentence(error)))

    @on(Looked)
    def close(self, event: Looked) -> None:
        """Close with the folder; where there is none, say so and go on asking."""
        event.stop()
        if event.folder is None:
            self.query_one("#trouble", Static).update(f"{event.reason}\n")
        else:
            self.dismiss(event.folder)

    def action_back(self) -> None:
        """Close without a folder."""
        self.dismiss(None)


class AwayScreen(Screen[bool]):
    """Covers the tasks while the student is away; closes with whether to go on."""

    CSS = styles("drills")
    SCOPED_CSS = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "answer(True)", "Go on", id="away.on", tooltip="Go on with the drill"),
        Binding("escape", "answer(False)", "Home", id="away.home", tooltip="Go to the problems"),
    ]

    def __init__(self, told: str) -> None:
        super().__init__()
        self._told = told

    def compose(self) -> ComposeResult:
        """Lay out what is kept, and the keys."""
        yield Static(self._told, id="told", markup=False)
        yield Static(
            "Enter   go on with it\nEsc     to the problems\nCtrl+Q  quit",
            id="onward",
            markup=False,
        )
        yield TooSmall()

    def action_answer(self, answer: bool) -> None:
        """Close with an answer."""
        self.dismiss(answer)
