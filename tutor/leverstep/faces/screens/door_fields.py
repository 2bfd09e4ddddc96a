"""The fields at the door of a drill: for an id, and beneath it for what is asked besides."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Input, Static

from leverstep.dialogue.door_dialogue import DoorAsks
from leverstep.drill.drill import LONGEST_STUDENT
from leverstep.drill.start_word import LONGEST_WORD
from leverstep.faces.screens.asides import LONGEST_PATH
from leverstep.faces.screens.field import Field

_STUDENT = "Your id, then Enter"
_PIN = "Your PIN, which is not shown, then Enter"
_START = "The start word given out in the room, then Enter"
_ELSEWHERE = "Another folder for the record, or Enter to try the same again"


class DoorFields(Vertical):
    """Asks for an id, a PIN, a start word or a folder, and shows what is told of the id."""

    def __init__(self, student: str) -> None:
        super().__init__()
        self._student = student

    def compose(self) -> ComposeResult:
        """Lay out the fields; those besides the id come when they are needed."""
        yield Static(_STUDENT, id="asks", markup=False)
        yield Field(
            self._student, id="student", compact=True, select_on_focus=False,
            max_length=LONGEST_STUDENT,
        )  # fmt: skip
        yield Static(id="whose", markup=False)
        with Vertical(id="let-in") as let_in:
            let_in.display = False
            yield Static(_PIN, id="asks-pin", markup=False)
            yield Field(
                id="pin", compact=True, select_on_focus=False, max_length=LONGEST_WORD,
                password=True,
            )  # fmt: skip
        with Vertical(id="start") as start:
            start.display = False
            yield Static(_START, id="starts", markup=False)
            yield Field(id="word", compact=True, select_on_focus=False, max_length=LONGEST_WORD)
        with Vertical(id="elsewhere") as elsewhere:
            elsewhere.display = False
            yield Static(_ELSEWHERE, id="where", markup=False)
            yield Field(id="folder", compact=True, select_on_focus=False, max_length=LONGEST_PATH)

    @property
    def typed(self) -> str:
        """Return the id that stands in its field."""
        return self.query_one("#student", Input).value.strip()

    def say(self, told: str) -> None:
        """Show what is told, in place of what was."""
        self.query_one("#whose", Static).update(told)

    def ask(self, asked: DoorAsks) -> None:
        """Show the field in which something is asked, and go there.

        What has no field of its own is answered by Enter behind the id.
        """
        self.query_one("#pin", Input).clear()
        self.query_one("#let-in").display = asked is DoorAsks.PIN
        self.query_one("#start").display = asked is DoorAsks.START_WORD
        self.query_one("#elsewhere").display = asked is DoorAsks.FOLDER
        fields = {DoorAsks.PIN: "#pin", DoorAsks.START_WORD: "#word", DoorAsks.FOLDER: "#folder"}
        self.query_one(fields.get(asked, "#student")).focus()
