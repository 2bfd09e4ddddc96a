"""The way into a drill: its rules, whose sitting it is, and its beginning."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Input, Static

from tutor.course.faults import FileError
from tutor.course.shelf import Shelf
from tutor.drill.begun import remember
from tutor.drill.drill import LONGEST_STUDENT, Drill
from tutor.drill.drill_file import read_drill
from tutor.drill.notice import rules_in_words, turn_told
from tutor.drill.record import RecordError, folder_named
from tutor.drill.sitting import Closed, Sitting, admitted, next_turn
from tutor.screens.asides import LONGEST_PATH, sentence
from tutor.screens.drill import DrillScreen
from tutor.screens.footer import KeyLine
from tutor.screens.opening import Entrance
from tutor.screens.room import TooSmall, leaf


@dataclass(frozen=True)
class Known:
    """A student who may sit the drill: id and name, and the sitting that goes on."""

    student: str
    name: str
    path: Path | None = None
    far: str = ""

    @property
    def told(self) -> str:
        """Return who it is and what will be, before it begins."""
        whose = f"{self.student}, {self.name}" if self.name else self.student
        return f"You are {whose}. {self.far}".strip()


_ELSEWHERE = "Another folder for the record, or Enter to try the same again"
_MEANWHILE = "It has been begun meanwhile, perhaps in a second window: go on in one of them only."


class DoorScreen(Screen[str]):
    """Asks whose sitting it is, shows the rules, and begins.

    Closes with the reason where the drill can't be read.
    """

    AUTO_FOCUS = "#student"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("pageup", "look(-1)", "Up", id="door.up", show=False, priority=True,
            tooltip="Scroll the rules up"),
        Binding("pagedown", "look(1)", "More", id="door.down", priority=True,
            tooltip="Scroll the rules down"),
        Binding("escape", "app.home", "Home", id="door.home",
            tooltip="Go to the problems"),
    ]  # fmt: skip

    @dataclass
    class Read(Message):
        """The file of the drill has been read."""

        drill: Drill

    @dataclass
    class Recognised(Message):
        """It is known whose sitting it will be."""

        known: Known

    @dataclass
    class Unreadable(Message):
        """The file of the drill can't be read."""

        reason: str

    @dataclass
    class Found(Message):
        """There is the folder that was typed."""

        folder: Path

    @dataclass
    class Begun(Message):
        """The sitting has begun, or goes on."""

        sitting: Sitting

    @dataclass
    class Refused(Message):
        """Something can't be done; `folder` says whether another folder may help."""

        reason: str
        folder: bool = False

    def __init__(self, entrance: Entrance, shelf: Shelf) -> None:
        super().__init__()
        self.entrance = entrance
        self._shelf = shelf
        self._drill: Drill | None = None
        self._known: Known | None = None
        self._busy = True
        self._elsewhere: Path | None = None

    @property
    def _typed(self) -> str:
        """Return the id that stands in its field."""
        return self.query_one("#student", Input).value.strip()

    def compose(self) -> ComposeResult:
        """Lay out title, rules and fields."""
        yield Static("One moment: the drill is being read …", id="title", markup=False)
        with VerticalScroll(id="rules", can_focus=False):
            yield Static(id="told", markup=False)
        yield Static("Your id, then Enter", id="asks", markup=False)
        yield Input(
            self.entrance.student, id="student", compact=True, select_on_focus=False,
            max_length=LONGEST_STUDENT,
        )  # fmt: skip
        yield Static(id="whose", markup=False)
        with Vertical(id="elsewhere"):
            yield Static(_ELSEWHERE, id="where", markup=False)
            yield Input(id="folder", compact=True, select_on_focus=False, max_length=LONGEST_PATH)
        yield KeyLine()
        yield TooSmall()

    def on_mount(self) -> None:
        """Read the drill beside the screen."""
        self.query_one("#elsewhere").display = False
        path, problems = self.entrance.path, self._shelf.problems
        self.run_job(lambda: self.Read(read_drill(path, problems, roster_needed=False)))

    @work(thread=True, group="door")
    def run_job(self, job: Callable[[], Message]) -> None:
        """Do something beside the screen, and post what came of it."""
        try:
            self.post_message(job())
        except FileError as error:
            self.post_message(self.Unreadable(str(error)))
        except Closed as error:
            self.post_message(self.Refused(sentence(error)))
        except RecordError as error:
            self.post_message(self.Refused(sentence(error), folder=True))

    @on(Read)
    def show_rules(self, event: Read) -> None:
        """Show the rules; where the id is known already, look who it is."""
        event.stop()
        self._drill, self._busy = event.drill, False
        self.query_one("#title", Static).update(event.drill.title)
        rules = rules_in_words(event.drill, self.entrance.folder, "press F10", "press Esc")
        self.query_one("#told", Static).update("\n".join(f"· {rule}" for rule in rules))
        if self.entrance.student:
            self._recognise(event.drill, self.entrance.student)

    @on(Unreadable)
    def give_up(self, event: Unreadable) -> None:
        """Close: there is nothing to sit."""
        event.stop()
        self.dismiss(event.reason)

    @on(Input.Changed, "#student")
    def forget(self, event: Input.Changed) -> None:
        """Let go of who was shown where another id is typed."""
        event.stop()
        if self._known is not None and self._typed != self.entrance.student:
            self._known = None
            self._say("")
            self.query_one("#elsewhere").display = False

    @on(Input.Submitted, "#student")
    def enter_student(self, event: Input.Submitted) -> None:
        """Look who it is; begin where that has been shown."""
        event.stop()
        drill, known, typed = self._drill, self._known, event.value.strip()
        if drill is None or self._busy or not typed:
            return
        if known is None or typed != self.entrance.student:
            self._recognise(drill, typed)
            return
        self._begin(drill, known)

    def _recognise(self, drill: Drill, typed: str) -> None:
        self.entrance = replace(self.entrance, student=typed)
        self._known, self._busy = None, True
        folder = self.entrance.folder
        self.run_job(lambda: self.Recognised(_known(drill, typed, folder)))

    def _begin(self, drill: Drill, known: Known) -> None:
        self._busy = True
        self._say("One moment: the tasks are being set out …")
        entrance, elsewhere = self.entrance, self._elsewhere

        def begun() -> Message:
            folder = elsewhere or entrance.folder
            if known.path is not None:
                sitting = Sitting.resume(known.path, drill, elsewhere)
            elif (now := _known(drill, known.student, folder)).path is not None:
                return self.Recognised(replace(now, far=f"{_MEANWHILE} {now.far}"))
            else:
                sitting = Sitting.start(drill, known.student, folder)
            remember(sitting, entrance.path)
            return self.Begun(sitting)

        self.run_job(begun)

    @on(Recognised)
    def confirm(self, event: Recognised) -> None:
        """Show who it is, and ask whether to begin."""
        event.stop()
        self._busy = False
        if self._typed != self.entrance.student:
            return
        self._known = event.known
        does = "goes on" if event.known.path else "begins"
        self._say(f"{event.known.told} Enter {does}. Not you? Type your own id.")

    @on(Begun)
    def open_tasks(self, event: Begun) -> None:
        """Open the tasks."""
        event.stop()
        self.app.switch_screen(DrillScreen(event.sitting, self.entrance.path))

    @on(Refused)
    def refuse(self, event: Refused) -> None:
        """Say why it can't be; offer another folder where that may help."""
        event.stop()
        self._busy = False
        self._known = self._known if event.folder else None
        self._say(event.reason)
        self.query_one("#elsewhere").display = event.folder
        if event.folder:
            self.query_one("#folder").focus()

    @on(Input.Submitted, "#folder")
    def enter_folder(self, event: Input.Submitted) -> None:
        """Begin with the record in another folder, or where it was to lie at first."""
        event.stop()
        drill, known, typed = self._drill, self._known, event.value
        if drill is None or known is None or self._busy:
            return
        if not typed.strip():
            self._begin(drill, known)
            return
        self._busy = True
        self.run_job(lambda: self.Found(folder_named(typed)))

    @on(Found)
    def begin_there(self, event: Found) -> None:
        """Begin with the record in a folder that there is."""
        event.stop()
        self._busy = False
        if self._drill is not None and self._known is not None:
            self._elsewhere = event.folder
            self._begin(self._drill, self._known)

    def _say(self, told: str) -> None:
        self.query_one("#whose", Static).update(told)

    def action_look(self, way: int) -> None:
        """Scroll the rules."""
        leaf(self.query_one("#rules", VerticalScroll), way)


def _known(drill: Drill, typed: str, folder: Path | None) -> Known:
    """Return who has an id, and the latest sitting that goes on.

    Raises:
        Closed: where the student can't sit the drill.
    """
    student = admitted(drill, typed, datetime.now(UTC))
    name = drill.students.get(student, "")
    turn = next_turn(drill, student, folder)
    return Known(student, name, turn.path, turn_told(drill, turn))
