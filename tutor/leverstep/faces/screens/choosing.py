"""A screen on which a problem is chosen: its file is read beside the screen, then it is opened."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from leverstep.course.faults import FileError
from leverstep.faces.screens.visit import Visit

if TYPE_CHECKING:
    from textual.visual import VisualType

    from leverstep.faces.openings import Opening

_MEANWHILE = "One moment: the problem is being read …"


class ChoosingScreen(Screen[None]):
    """Opens what is chosen once its file is read; a file that can't be read is told of."""

    TELLS: ClassVar[str]
    """Where it is told that a file is being read: the selector of a line."""

    @dataclass
    class Chosen(Message):
        """What was chosen has been read; `opens` makes the screen of it."""

        opening: Opening
        opens: Callable[[Opening], Screen[None]]

    @dataclass
    class Unopened(Message):
        """What was chosen can't be read: its file was broken since the list was made."""

        reason: str

    @dataclass
    class Refused(Message):
        """What was measured on the own body can't be taken."""

        reason: str

    def __init__(self, visit: Visit) -> None:
        super().__init__()
        self.visit = visit
        self._told: VisualType | None = None

    def choose(self, read: Callable[[], Opening], opens: Callable[[Opening], Screen[None]]) -> None:
        """Read what was chosen, then open it; until then nothing else is opened."""
        if self._told is None:
            line = self.query_one(self.TELLS, Static)
            self._told = line.content
            line.update(_MEANWHILE)
            self.read_chosen(read, opens)

    @work(thread=True, group="choosing")
    def read_chosen(
        self, read: Callable[[], Opening], opens: Callable[[Opening], Screen[None]]
    ) -> None:
        """Read beside the screen, since a share may take its time."""
        from leverstep.working.own import OwnError  # light until a problem is chosen

        try:
            self.post_message(self.Chosen(read(), opens))
        except FileError as error:
            self.post_message(self.Unopened(str(error)))
        except OwnError as error:
            self.post_message(self.Refused(f"{error}."))

    @on(Chosen)
    def open_read(self, event: Chosen) -> None:
        """Open what was read, unless the student has gone elsewhere meanwhile."""
        event.stop()
        self._done_reading()
        if self.is_current:
            self.app.push_screen(event.opens(event.opening))

    @on(Unopened)
    def tell_unopened(self, event: Unopened) -> None:
        """Say why it can't be opened."""
        event.stop()
        self._done_reading()
        from leverstep.faces.screens.help import ReadScreen  # light until it is needed

        self.app.push_screen(ReadScreen([f"This problem can't be opened. {event.reason}"]))

    @on(Refused)
    def tell_refused(self, event: Refused) -> None:
        """Say why the numbers of the own body can't be taken."""
        event.stop()
        self._done_reading()
        self.refuse(event.reason)

    def refuse(self, reason: str) -> None:
        """Say where they are typed why they can't be taken; here they are typed nowhere."""

    def _done_reading(self) -> None:
        """Tell again what was told before."""
        if self._told is not None:
            self.query_one(self.TELLS, Static).update(self._told)
            self._told = None

    def to_work(self, opening: Opening) -> Screen[None]:
        """Return the screen of a working."""
        from leverstep.faces.screens.work import WorkScreen  # light until a problem is chosen

        return WorkScreen(opening, self.visit)
