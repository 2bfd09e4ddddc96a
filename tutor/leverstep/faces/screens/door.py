"""The way into a drill: its rules, whose sitting it is, and its beginning."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Input, Static

from leverstep.course.faults import FileError
from leverstep.dialogue.admission import Admission
from leverstep.dialogue.door_dialogue import DoorAsks, DoorDialogue, DoorRefusal, DoorReply
from leverstep.drill.drill_file import read_drill
from leverstep.drill.sitting import Sitting
from leverstep.faces.screens.caution import Caution
from leverstep.faces.screens.door_fields import DoorFields
from leverstep.faces.screens.drill_screen import HAND_IN, LEAVE, DrillScreen
from leverstep.faces.screens.entrances import Entrance
from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.handed import HandedScreen
from leverstep.faces.screens.room import TooSmall, leaf
from leverstep.faces.screens.styles import styles
from leverstep.faces.screens.visit import Visit

_PREPARING = "Preparing…"
_LOOKING = "One moment…"


class DoorScreen(Screen[str]):
    """Shows the rules, asks what the dialogue at the door asks, and tells what it answers.

    Closes with the reason where the drill can't be read.
    """

    CSS = styles("drills")
    SCOPED_CSS = False
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

        dialogue: DoorDialogue

    @dataclass
    class Unreadable(Message):
        """The file of the drill can't be read."""

        reason: str

    @dataclass
    class Answered(Message):
        """Something that the student did has been answered."""

        dialogue: DoorDialogue
        reply: DoorReply

    def __init__(self, entrance: Entrance, visit: Visit) -> None:
        super().__init__()
        self.entrance = entrance
        self._visit = visit
        self._dialogue: DoorDialogue | None = None
        self._busy = False
        self._unopened: Sitting | None = None

    @property
    def _fields(self) -> DoorFields:
        return self.query_one(DoorFields)

    def compose(self) -> ComposeResult:
        """Lay out title, rules and fields."""
        yield Static("One moment: the drill is being read …", id="title", markup=False)
        yield Caution()
        with VerticalScroll(id="rules", can_focus=False):
            yield Static(id="told", markup=False)
        yield DoorFields(self.entrance.student)
        yield KeyLine()
        yield TooSmall()

    def on_mount(self) -> None:
        """Read the drill beside the screen."""
        self.read()

    @work(thread=True, group="door")
    def read(self) -> None:
        """Read the file of the drill."""
        path, folder, material = self.entrance.path, self.entrance.folder, self._visit.material
        try:
            drill = read_drill(path, material.shelf.problems, roster_needed=False)
        except FileError as error:
            self.post_message(self.Unreadable(str(error)))
        else:
            self.post_message(self.Read(DoorDialogue(drill, material.catalogue, path, folder)))

    @on(Unreadable)
    def give_up(self, event: Unreadable) -> None:
        """Close: there is nothing to sit."""
        event.stop()
        self.dismiss(event.reason)

    @on(Read)
    def show_rules(self, event: Read) -> None:
        """Show the rules; where the id is known already, look who it is."""
        event.stop()
        self._dialogue = dialogue = event.dialogue
        self.query_one("#title", Static).update(dialogue.drill.title)
        rules = (f"· {rule}" for rule in dialogue.rules(HAND_IN, LEAVE))
        self.query_one("#told", Static).update("\n".join(rules))
        if student := self.entrance.student:
            self._attempt(lambda door: door.enter(student))

    def _attempt(self, deed: Callable[[DoorDialogue], DoorReply], told: str = "") -> None:
        """Do something at the door, unless something is being done there; say what, if told."""
        if self._dialogue is None or self._busy:
            return
        self._busy = True
        if told:
            self._fields.say(told)
        self.answer(self._dialogue, deed)

    @work(thread=True, group="door")
    def answer(self, dialogue: DoorDialogue, deed: Callable[[DoorDialogue], DoorReply]) -> None:
        """Do something beside the screen, and post what came of it."""
        reply = deed(dialogue)
        if isinstance(reply, Sitting):
            self._unopened = reply
            if not self.is_attached:  # the student has gone meanwhile
                reply.pause()
        self.post_message(self.Answered(dialogue, reply))

    def on_unmount(self) -> None:
        """Let the clock stand still of a sitting that was begun and never opened."""
        if self._unopened is not None:
            self.app.run_worker(self._unopened.pause, thread=True, group="pause")

    @on(Answered)
    def show(self, event: Answered) -> None:
        """Open the sitting that has begun, or was handed in; else tell what was answered."""
        event.stop()
        self._busy, self._unopened = False, None
        if not isinstance(event.reply, Sitting):
            self._tell(event.dialogue, event.reply)
        elif event.reply.ended:
            self.app.push_screen(HandedScreen(event.reply, ""))
        else:
            self.app.switch_screen(DrillScreen(event.reply, self.entrance.path, self._visit))

    def _tell(self, dialogue: DoorDialogue, reply: Admission | DoorRefusal) -> None:
        """Tell who is known or what can't be done, and what Enter does."""
        if not dialogue.is_known(self._fields.typed):  # none is, or another id stands there by now
            dialogue.forget()
        known, told = dialogue.known, list[str]()
        does = f"Enter {known.does}." if known and dialogue.asks is DoorAsks.BEGIN else ""
        if isinstance(reply, DoorRefusal):
            told = [reply.told, does]
        elif known is not None:
            result = "F4 shows the result of the one handed in." if known.result else ""
            told = [known.whose, known.told, does, result, "Not you? Type your own id."]
        self._show(dialogue, told)

    def _show(self, dialogue: DoorDialogue, told: Iterable[str]) -> None:
        """Show what is told, and ask what is asked now."""
        self._fields.say(" ".join(part for part in told if part))
        self._fields.ask(dialogue.asks)
        self.refresh_bindings()

    @on(Input.Changed, "#student")
    def forget(self, event: Input.Changed) -> None:
        """Let go of who was shown where another id is typed."""
        event.stop()
        dialogue = self._dialogue
        if dialogue is None or self._busy or dialogue.known is None:
            return
        if not dialogue.is_known(self._fields.typed):
            dialogue.forget()
            self._show(dialogue, [])

    @on(Input.Submitted, "#student")
    def enter_student(self, event: Input.Submitted) -> None:
        """Look who it is; begin where that has been shown."""
        event.stop()
        typed, dialogue = event.value.strip(), self._dialogue
        if typed and dialogue is not None:
            told = _PREPARING if dialogue.is_known(typed) else ""
            self._attempt(lambda door: door.enter(typed), told)

    @on(Input.Submitted, "#pin")
    def enter_pin(self, event: Input.Submitted) -> None:
        """Tell what may be done where it is the PIN."""
        event.stop()
        typed = event.value
        if typed.strip():
            self._attempt(lambda door: door.show_pin(typed), _LOOKING)

    @on(Input.Submitted, "#word")
    def enter_word(self, event: Input.Submitted) -> None:
        """Begin where it is the start word."""
        event.stop()
        typed = event.value
        if typed.strip():
            self._attempt(lambda door: door.unlock(typed) or door.begin(), _PREPARING)

    @on(Input.Submitted, "#folder")
    def enter_folder(self, event: Input.Submitted) -> None:
        """Begin with the record in another folder, or where it was to lie at first."""
        event.stop()
        typed = event.value
        self._attempt(lambda door: door.name_folder(typed) or door.begin(), _PREPARING)

    def action_result(self) -> None:
        """Read again the result of the sitting handed in last."""
        self._attempt(lambda door: door.read_result())

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer a result only where there is one."""
        del parameters
        known = self._dialogue.known if self._dialogue else None
        return action != "result" or (known is not None and known.result is not None)

    def action_look(self, way: int) -> None:
        """Scroll the rules."""
        leaf(self.query_one("#rules", VerticalScroll), way)
