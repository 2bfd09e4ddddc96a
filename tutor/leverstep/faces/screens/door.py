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

from leverstep.bench.record import RecordError, folder_named
from leverstep.course.faults import FileError
from leverstep.course.phrases import sentence
from leverstep.dialogue.admission import Admission, admission, not_kept, reread
from leverstep.dialogue.notice import rules_in_words
from leverstep.drill.begun import remember
from leverstep.drill.drill import LONGEST_STUDENT, Drill
from leverstep.drill.drill_file import read_drill
from leverstep.drill.sitting import Closed, Sitting
from leverstep.drill.start_word import LONGEST_WORD, NOT_THE_WORD, key_of
from leverstep.faces.screens.asides import LONGEST_PATH
from leverstep.faces.screens.caution import Caution
from leverstep.faces.screens.drill_screen import HAND_IN, LEAVE, DrillScreen
from leverstep.faces.screens.entrances import Entrance
from leverstep.faces.screens.field import Field
from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.handed import HandedScreen
from leverstep.faces.screens.room import TooSmall, leaf
from leverstep.faces.screens.visit import Visit

_ELSEWHERE = "Another folder for the record, or Enter to try the same again"
_START = "The start word given out in the room, then Enter"
_MEANWHILE = "It has been begun meanwhile, perhaps in a second window: go on in only one of them."


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
        Binding("f4", "result", "Result", id="door.result",
            tooltip="Read again the result of the sitting handed in last"),
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

        known: Admission

    @dataclass
    class Unlocked(Message):
        """The start word was typed; `drill` is None where it was another word."""

        drill: Drill | None

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
    class Reread(Message):
        """A sitting that was handed in is to be read again."""

        sitting: Sitting

    @dataclass
    class Refused(Message):
        """Something can't be done; `folder` says whether another folder may help."""

        reason: str
        folder: bool = False

    def __init__(self, entrance: Entrance, visit: Visit) -> None:
        super().__init__()
        self.entrance = entrance
        self._visit = visit
        self._drill: Drill | None = None
        self._begun: Sitting | None = None
        self._known: Admission | None = None
        self._busy = True
        self._elsewhere: Path | None = None

    @property
    def _typed(self) -> str:
        """Return the id that stands in its field."""
        return self.query_one("#student", Input).value.strip()

    def compose(self) -> ComposeResult:
        """Lay out title, rules and fields."""
        yield Static("One moment: the drill is being read …", id="title", markup=False)
        yield Caution()
        with VerticalScroll(id="rules", can_focus=False):
            yield Static(id="told", markup=False)
        yield Static("Your id, then Enter", id="asks", markup=False)
        yield Field(
            self.entrance.student, id="student", compact=True, select_on_focus=False,
            max_length=LONGEST_STUDENT,
        )  # fmt: skip
        yield Static(id="whose", markup=False)
        with Vertical(id="start"):
            yield Static(_START, id="starts", markup=False)
            yield Field(id="word", compact=True, select_on_focus=False, max_length=LONGEST_WORD)
        with Vertical(id="elsewhere"):
            yield Static(_ELSEWHERE, id="where", markup=False)
            yield Field(id="folder", compact=True, select_on_focus=False, max_length=LONGEST_PATH)
        yield KeyLine()
        yield TooSmall()

    def on_mount(self) -> None:
        """Read the drill beside the screen."""
        self.query_one("#elsewhere").display = self.query_one("#start").display = False
        path, problems = self.entrance.path, self._visit.shelf.problems
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
            told = not_kept(error, self._drill, self._elsewhere or self.entrance.folder)
            self.post_message(self.Refused(told, folder=True))

    @on(Read)
    def show_rules(self, event: Read) -> None:
        """Show the rules; where the id is known already, look who it is."""
        event.stop()
        self._drill, self._busy = event.drill, False
        self.query_one("#title", Static).update(event.drill.title)
        rules = rules_in_words(event.drill, self.entrance.folder, HAND_IN, LEAVE)
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
            self.refresh_bindings()
            self._say("")
            self.query_one("#elsewhere").display = self.query_one("#start").display = False

    @on(Input.Submitted, "#student")
    def enter_student(self, event: Input.Submitted) -> None:
        """Look who it is; begin where that has been shown."""
        event.stop()
        drill, known, typed = self._drill, self._known, event.value.strip()
        if drill is None or self._busy or not typed:
            return
        if known is None or typed != self.entrance.student:
            self._recognise(drill, typed)
        elif self._asks_for_word:
            self.query_one("#word").focus()
        elif known.turn is not None:
            self._begin(drill, known, known.turn.path)

    @property
    def _asks_for_word(self) -> bool:
        """Return whether the sitting at hand begins with a start word that is not known yet."""
        drill, known = self._drill, self._known
        return drill is not None and known is not None and known.needs_start_word(drill)

    @on(Input.Submitted, "#word")
    def enter_word(self, event: Input.Submitted) -> None:
        """Look whether it is the start word."""
        event.stop()
        drill, typed = self._drill, event.value
        if drill is None or self._busy or not self._asks_for_word or not typed.strip():
            return

        def looked() -> Message:
            key = key_of(drill.start_word, typed)
            return self.Unlocked(drill.with_key(key) if key else None)

        self._busy = True
        self.run_job(looked)

    @on(Unlocked)
    def begin_with_word(self, event: Unlocked) -> None:
        """Begin where it was the start word."""
        event.stop()
        self._busy = False
        if event.drill is None:
            self._say(NOT_THE_WORD)
        elif self._known is not None:
            self._drill = event.drill
            self.query_one("#start").display = False
            self._begin(event.drill, self._known, None)

    def _recognise(self, drill: Drill, typed: str) -> None:
        self.entrance = replace(self.entrance, student=typed)
        self._known, self._busy = None, True
        folder = self.entrance.folder

        self.run_job(lambda: self.Recognised(admission(drill, typed, folder, datetime.now(UTC))))

    def _begin(self, drill: Drill, known: Admission, path: Path | None) -> None:
        self._busy = True
        self._say("Preparing…")
        entrance, elsewhere = self.entrance, self._elsewhere

        def begun() -> Message:
            folder = elsewhere or entrance.folder
            if path is None:
                now = admission(drill, known.student, folder, datetime.now(UTC))
                if now.turn is None or now.turn.path is not None:
                    return self.Recognised(replace(now, told=f"{_MEANWHILE} {now.told}"))
                sitting = Sitting.start(drill, known.student, folder)
            else:
                sitting = Sitting.resume(path, drill, elsewhere)
            remember(sitting, entrance.path)
            self._begun = sitting
            if not self.is_attached:  # the student has gone meanwhile
                sitting.pause()
            return self.Begun(sitting)

        self.run_job(begun)

    def on_unmount(self) -> None:
        """Let the clock stand still of a sitting that was begun and never opened."""
        if self._begun is not None:
            self.app.run_worker(self._begun.pause, thread=True, group="pause")

    @on(Recognised)
    def confirm(self, event: Recognised) -> None:
        """Show who it is, and ask whether to begin."""
        event.stop()
        self._busy = False
        if self._typed != self.entrance.student:
            return
        self._known = known = event.known
        asks = self.query_one("#start").display = self._asks_for_word
        does = [] if known.turn is None or asks else [f"Enter {known.does}."]
        does += [] if known.result is None else ["F4 shows the result of the one handed in."]
        told = (known.whose, known.told, *does, "Not you? Type your own id.")
        self._say(" ".join(part for part in told if part))
        self.refresh_bindings()
        if asks:
            self.query_one("#word").focus()

    @on(Begun)
    def open_tasks(self, event: Begun) -> None:
        """Open the tasks."""
        event.stop()
        self._begun = None
        self.app.switch_screen(DrillScreen(event.sitting, self.entrance.path, self._visit))

    def action_result(self) -> None:
        """Read again the result of the sitting handed in last."""
        drill, known = self._drill, self._known
        if drill is not None and known is not None and known.result is not None:
            path, self._busy = known.result, True
            self.run_job(lambda: self.Reread(reread(path, drill)))

    @on(Reread)
    def show_result(self, event: Reread) -> None:
        """Show what came of the sitting."""
        event.stop()
        self._busy = False
        self.app.push_screen(HandedScreen(event.sitting, ""))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer a result only where there is one."""
        del parameters
        return action != "result" or (self._known is not None and self._known.result is not None)

    @on(Refused)
    def refuse(self, event: Refused) -> None:
        """Say why it can't be; offer another folder where that may help."""
        event.stop()
        self._busy = False
        self._known = self._known if event.folder else None
        self.refresh_bindings()
        self._say(event.reason)
        self.query_one("#elsewhere").display = event.folder
        self.query_one("#folder" if event.folder else "#student").focus()

    @on(Input.Submitted, "#folder")
    def enter_folder(self, event: Input.Submitted) -> None:
        """Begin with the record in another folder, or where it was to lie at first."""
        event.stop()
        drill, known, typed = self._drill, self._known, event.value
        if drill is None or known is None or known.turn is None or self._busy:
            return
        if not typed.strip():
            self._begin(drill, known, known.turn.path)
            return
        self._busy = True
        self.run_job(lambda: self.Found(folder_named(typed)))

    @on(Found)
    def begin_there(self, event: Found) -> None:
        """Begin with the record in a folder that there is."""
        event.stop()
        self._busy = False
        drill, known = self._drill, self._known
        if drill is not None and known is not None and known.turn is not None:
            self._elsewhere = event.folder
            self._begin(drill, known, known.turn.path)

    def _say(self, told: str) -> None:
        self.query_one("#whose", Static).update(told)

    def action_look(self, way: int) -> None:
        """Scroll the rules."""
        leaf(self.query_one("#rules", VerticalScroll), way)
