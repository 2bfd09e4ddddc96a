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
from textual.containers import VerticalScroll
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Input, Static

from tutor.course.faults import FileError
from tutor.course.shelf import Shelf
from tutor.drill.drill import LONGEST_STUDENT, Drill
from tutor.drill.drill_file import read_drill
from tutor.drill.notice import rules_in_words, turn_told
from tutor.drill.record import RecordError
from tutor.drill.sitting import Closed, Sitting, admitted, next_turn
from tutor.screens.asides import LONGEST_PATH
from tutor.screens.drill import DrillScreen
from tutor.screens.footer import KeyLine
from tutor.screens.opening import Entrance
from tutor.screens.room import TooSmall


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


class DoorScreen(Screen[None]):
    """Asks whose sitting it is, shows the rules, and begins."""

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
        yield Input(id="folder", compact=True, select_on_focus=False, max_length=LONGEST_PATH,
            placeholder="another folder for the record, then Enter")  # fmt: skip
        yield KeyLine()
        yield TooSmall()

    def on_mount(self) -> None:
        """Read the drill beside the screen."""
        self.query_one("#folder").display = False
        path, problems = self.entrance.path, self._shelf.problems
        self.run_job(lambda: self.Read(read_drill(path, problems, roster_needed=False)))

    @work(thread=True, group="door")
    def run_job(self, job: Callable[[], Message]) -> None:
        """Do something beside the screen, and post what came of it."""
        try:
            self.post_message(job())
        except FileError as error:
            self.post_message(self.Refused(str(error)))
        except Closed as error:
            reason = str(error)
            self.post_message(self.Refused(f"{reason[:1].upper()}{reason[1:]}."))
        except RecordError as error:
            self.post_message(self.Refused(f"{error}.", folder=True))

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

        def recognised() -> Message:
            student = admitted(drill, typed, datetime.now(UTC))
            name = drill.students.get(student, "")
            turn = next_turn(drill, student, folder)
            return self.Recognised(Known(student, name, turn.path, turn_told(drill, turn)))

        self.run_job(recognised)

    def _begin(self, drill: Drill, known: Known) -> None:
        self._busy = True
        self._say("One moment: the tasks are being set out …")
        folder, elsewhere = self.entrance.folder, self._elsewhere

        def begun() -> Message:
            if known.path is not None:
                return self.Begun(Sitting.resume(known.path, drill, elsewhere))
            return self.Begun(Sitting.start(drill, known.student, folder))

        self.run_job(begun)

    @on(Recognised)
    def confirm(self, event: Recognised) -> None:
        """Show who it is, and ask whether to begin."""
        event.stop()
        self._known, self._busy = event.known, False
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
        if self._drill is None:
            self.query_one("#title", Static).update("This drill can't be opened. Esc leads back.")
        self._known = self._known if event.folder else None
        self._say(event.reason)
        self.query_one("#folder").display = event.folder
        if event.folder:
            self.query_one("#folder").focus()

    @on(Input.Submitted, "#folder")
    def enter_folder(self, event: Input.Submitted) -> None:
        """Begin with the record in another folder."""
        event.stop()
        if self._drill is None or self._known is None or self._busy or not event.value.strip():
            return
        self._elsewhere = Path(event.value.strip()).expanduser().absolute()
        self.entrance = replace(self.entrance, folder=self._elsewhere)
        self._begin(self._drill, self._known)

    def _say(self, told: str) -> None:
        self.query_one("#whose", Static).update(told)

    def action_look(self, way: int) -> None:
        """Scroll the rules."""
        pane = self.query_one("#rules", VerticalScroll)
        pane.scroll_relative(y=way * max(1, pane.size.height - 1), animate=False)
