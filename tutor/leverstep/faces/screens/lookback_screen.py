"""The end of a working, to be read through: slips, meaning, ways on, lines beside worked ones."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from leverstep.dialogue.lookback import LinePair, LookBack
from leverstep.faces.screens.caution import Caution
from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.marks import MARKS
from leverstep.faces.screens.room import TooSmall, leaf
from leverstep.faces.screens.styles import styles
from leverstep.faces.screens.written import indented
from leverstep.progress.onward import WaysOn

ONWARD: list[BindingType] = [
    Binding(
        "f7", "go_on('again')", "New numbers", id="onward.again",
        tooltip="Work the same problem again with new numbers",
    ),
    Binding(
        "ctrl+n", "go_on('next')", "Next problem", id="onward.next",
        tooltip="Work another kind of problem",
    ),
    Binding(
        "ctrl+o", "go_on('slip')", "For the slip", id="onward.slip",
        tooltip="Work another problem in which the slip can be made",
    ),
    Binding(
        "ctrl+f", "go_on('mend')", "Find a slip", id="onward.mend",
        tooltip="Find and mend the slip that somebody else made in this problem",
    ),
    Binding(
        "ctrl+e", "go_on('mend two')", "Find two slips", id="onward.mend-two", show=False,
        tooltip="Find and mend two slips that somebody else made in this problem",
    ),
    Binding(
        "ctrl+s", "go_on('page')", "Write page", id="onward.page",
        tooltip="Write your working to a file, to keep or to hand in",
    ),
]  # fmt: skip
"""The keys that lead on from a working that has ended."""

_WAIT = "One moment: your practice is being read …"


class LookBackScreen(Screen[str]):
    """Shows what there is to look back on; closes with where to go on, "" for back to the lines."""

    CSS = styles("work")
    SCOPED_CSS = False
    AUTO_FOCUS = "#account"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "pageup", "look(-1)", "Up", id="lookback.up", show=False, priority=True,
            tooltip="Scroll up",
        ),
        Binding(
            "pagedown,space", "look(1)", "More", id="lookback.down", priority=True,
            tooltip="Scroll down",
        ),
        Binding(
            "escape,f10", "go_on('')", "Back", id="lookback.back",
            tooltip="Go back to the working",
        ),
        *ONWARD,
    ]  # fmt: skip
    help_text = "↑ and ↓ scroll by a line; Home and End go to both ends."

    @dataclass
    class Known(Message):
        """It is known where the ways on lead."""

        ways: WaysOn

    def __init__(self, title: str, back: LookBack, ways: Callable[[], WaysOn]) -> None:
        """Look back on a working.

        Args:
            title: that of its problem.
            back: what there is to look back on.
            ways: what reads where the ways on lead; it takes a moment.
        """
        super().__init__()
        self._title = title
        self._back = back
        self._ways = ways

    def compose(self) -> ComposeResult:
        """Lay out the headline and the caution, and beneath them what is read through."""
        told = f"{self._title}: {self._back.ending.headline}"
        yield Static(told, id="title", markup=False)
        yield Caution()
        with VerticalScroll(id="account"):
            yield Static(_joined(_remembered(self._back)), id="remembered", markup=False)
            yield Static(_joined(_onward(None)), id="ways", markup=False)
            yield Static(_joined(_lines(self._back.in_turn)), id="lines", markup=False)
        yield KeyLine()
        yield TooSmall()

    def on_mount(self) -> None:
        """Read beside the screen where the ways on lead."""
        self.read_ways()

    @work(thread=True, group="ways")
    def read_ways(self) -> None:
        """Read what was practised."""
        self.post_message(self.Known(self._ways()))

    @on(Known)
    def show_ways(self, event: Known) -> None:
        """Show where the ways on lead."""
        event.stop()
        self.query_one("#ways", Static).update(_joined(_onward(event.ways)))

    def action_look(self, way: int) -> None:
        """Scroll what is shown."""
        leaf(self.query_one("#account", VerticalScroll), way)

    def action_go_on(self, where: str) -> None:
        """Close, and go on there."""
        self.dismiss(where)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer a problem for a slip only where one was made."""
        return bool(self._back.slips) or (action, parameters) != ("go_on", ("slip",))


def _joined(parts: Iterable[Content]) -> Content:
    return Content("\n").join(parts)


def _heading(told: str) -> Content:
    return Content.styled(told, "$primary bold")


def _remembered(back: LookBack) -> Iterator[Content]:
    """Yield how sure the student was, what was expected, what to remember, what it means."""
    if back.sure:
        yield _heading("How sure you were")
        yield from map(Content, back.sure)
        yield Content("")
    if back.expected:
        yield _heading("What you expected")
        yield from map(Content, back.expected)
        yield Content("")
    yield _heading("Slips, and what to remember")
    yield from map(Content, back.remembered)
    yield Content("")
    yield _heading("What it means")
    yield from map(Content, back.meant)
    yield Content("")


def _onward(ways: WaysOn | None) -> Iterator[Content]:
    """Yield each way on with its key; None where it is not known yet where they lead."""
    yield _heading("Where to go on")
    yield from indented("F7", "the same problem with new numbers")
    if ways is None:
        yield from indented("", _WAIT)
    elif ways.another is not None:
        yield from indented("Ctrl+N", ways.another.told)
    if ways is not None and ways.for_slip is not None:
        yield from indented("Ctrl+O", ways.for_slip.told)
    yield from indented("Ctrl+S", "write this working to a file, to keep or to hand in")
    yield Content("")


def _lines(lines: Iterable[LinePair]) -> Iterator[Content]:
    """Yield each line as it was written, and below it the worked one where that is another."""
    yield _heading("Your lines, each above the worked one")
    for line in lines:
        own = line.own or f"{line.name}: not written"
        mark = MARKS[line.mark]
        yield from indented(f"{mark.sign} {line.standing}" if line.is_shown else mark.text, own)
        if line.is_held:
            yield from indented("sure", "you were sure of an entry here that was not right")
        if line.worked and not line.is_as_worked:
            yield from indented("worked", line.worked)
