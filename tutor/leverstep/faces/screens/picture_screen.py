"""The screen where a free-body diagram is drawn: a list to choose from beside the picture."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from leverstep.dialogue.picture_choices import ChoiceStep, PictureChoice, PictureChoices
from leverstep.dialogue.picture_dialogue import PictureDialogue
from leverstep.dialogue.replies import DialogueAnswer, Reply, Unkept
from leverstep.faces.screens.caution import Cautioned
from leverstep.faces.screens.deeds import DeedsInRow, PictureDeed
from leverstep.faces.screens.desk import remarks
from leverstep.faces.screens.footer import KeyLine
from leverstep.faces.screens.marks import MARKS
from leverstep.faces.screens.pane import Pane, Scrolled, WrappedText
from leverstep.faces.screens.room import WIDE_COLUMNS, TooSmall, leaf
from leverstep.faces.screens.side_sheet import SMALLEST, has_dots, painted
from leverstep.faces.screens.styles import styles
from leverstep.faces.screens.written import row_starts
from leverstep.free_body.picture_scene import MadeScene
from leverstep.free_body.placing import Placing

if TYPE_CHECKING:
    from leverstep.dialogue.working_dialogue import WorkingDialogue
    from leverstep.faces.screens.side_sheet import Drawn

_HOW = "A digit or ↑ ↓ and Enter chooses."
"""How something is chosen: what stands far down the list has no digit."""

_DIGITS = 9
"""So many choices of a list can be made by a digit."""

_BEFORE = 4
"""Columns before what a choice is called: its digit and its sign."""

_PICTURE, _WIDE_PICTURE, _BESIDE_LIST = 43, 60, 3
"""Columns of the picture with what stands around it, also on a wide screen; columns beside the
list."""

_EDGE, _AROUND, _MOST_SAID = 2, 5, 5
"""Columns beside a text; rows of heading, rule, question, keys; the most rows of what is said."""

_LOWEST, _LEAST_STATED = 9, 4
"""Rows that list and picture keep, and that the statement keeps."""


class MadeDiagram(Static):
    """The picture as it stands, with what is looked at drawn beside it."""

    @dataclass
    class Clicked(Message):
        """The picture was clicked: where, and where the points lie, right and up in columns."""

        at: complex
        points: tuple[complex, ...]

    def __init__(self) -> None:
        super().__init__(markup=False)
        self._points: tuple[complex, ...] = ()
        self._wanted: tuple[MadeScene, Placing | None] | None = None

    def draw(self, made: MadeScene, tried: Placing | None) -> None:
        """Draw a picture, with something that is tried."""
        self._wanted = made, tried
        self.redraw()

    def on_resize(self, event: events.Resize) -> None:
        """Draw it again for its new size."""
        event.stop()
        self.redraw()

    def redraw(self) -> None:
        """Draw it for the room that it has; nothing where that is too little."""
        width, height = self.size
        if self._wanted is None or width < SMALLEST[0] or height < SMALLEST[1]:
            return
        from leverstep.diagram.layout import Focus, drawn

        made, tried = self._wanted
        scene, names = made.scene(tried), made.names()

        def draw(rows: int) -> Drawn:
            picture = drawn((scene,), names, width, rows, Focus(), has_dots())
            self._points = tuple(complex(column, -2 * row) for row, column in picture.points)
            return picture.rows, picture.legend

        self.update(painted(draw, width, height, SMALLEST[1]), layout=False)

    def on_click(self, event: events.Click) -> None:
        """Tell where it was clicked."""
        event.stop()
        offset = event.get_content_offset(self)
        if offset is not None and self._points:
            self.post_message(self.Clicked(complex(offset.x, -2 * offset.y), self._points))


class FreeBodyScreen(Screen[str]):
    """One free-body diagram, until it is done or skipped; closes with how it was left."""

    CSS = styles("work") + styles("picture")
    SCOPED_CSS = False
    AUTO_FOCUS = "#choices"
    help_text = """\
Drawing the diagram
  Choose what acts, then its point, then its direction, with the arrows,
  a digit, or a click, in the picture too. What you look at is drawn as
  it would stand.
  Some things of the list do not act. A thing that is chosen again is
  drawn anew; Del takes it away. ✓ stands right, ✗ does not. After what
  stands, the next thing that does not is lit.
  Say which distances lead from the axis to where a force acts, too.

At the end
  F4 says that it is complete. F3 skips it for good: the right one is
  shown from then on."""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "f2", "hint", "Hint", id="picture.hint",
            tooltip="Show the next hint on what is wrong or missing",
        ),
        Binding(
            "f3", "skip", "Skip", id="picture.skip",
            tooltip="Go on without the diagram; the right one is shown from then on",
        ),
        Binding(
            "f4", "finish", "Done", id="picture.done",
            tooltip="Say that the diagram is complete",
        ),
        Binding(
            "delete", "take_away", "Take away", id="picture.take-away",
            tooltip="Take the lit thing, or what you place anew, out of the diagram",
        ),
        Binding(
            "backspace,left", "back", "One back", id="picture.back",
            tooltip="Go back by one choice",
        ),
        Binding(
            "pagedown", "look(1)", "More", id="picture.down", show=False, priority=True,
            tooltip="Scroll the statement and what is said down",
        ),
        Binding(
            "pageup", "look(-1)", "Look up", id="picture.up", show=False, priority=True,
            tooltip="Scroll the statement and what is said up",
        ),
        Binding(
            "f9", "elsewhere('task')", "Task", id="picture.task",
            tooltip="Go to the next task; the diagram stays as it is",
        ),
        Binding(
            "f10", "elsewhere('hand in')", "Hand in", id="picture.hand-in",
            tooltip="Hand in; you are asked once more first",
        ),
        Binding(
            "ctrl+n", "elsewhere('next')", "Next problem", id="picture.next",
            tooltip="Go on to the next problem of your mixed set; this one stays kept",
        ),
        Binding(
            "escape", "leave", "Leave", id="picture.leave",
            tooltip="Go back by one choice, or else leave for now; everything is kept",
        ),
        *(
            Binding(
                str(number), f"digit({number})", f"Choice {number}", id=f"picture.choice-{number}",
                system=True, tooltip=f"Choose number {number} of the list",
            )
            for number in range(1, _DIGITS + 1)
        ),
    ]  # fmt: skip

    def __init__(
        self,
        heading: str,
        dialogue: WorkingDialogue,
        attempt: Callable[[PictureDeed], bool],
        progress: Callable[[], str],
        ways: frozenset[str],
    ) -> None:
        """Open the picture that is to be drawn now.

        Args:
            heading: what stands at the top.
            dialogue: that of the working.
            attempt: what does something at the picture, and returns whether it could be begun;
                what came of it is handed to `take`.
            progress: what returns what stands at the top on the right.
            ways: where it may be left for besides: a "task", to "hand in", or the "next" of a set.
        """
        super().__init__()
        picture = dialogue.picture
        assert picture is not None, "there is a picture to draw"
        self.picture: PictureDialogue = picture
        self._heading = heading
        self._dialogue = dialogue
        self._progress = progress
        self._ways = ways
        self._choices = PictureChoices(picture)
        self._made = MadeScene(picture.picture, picture.tells)
        self._answer: DialogueAnswer | None = None
        self._unkept = self._latest = self._put_in = ""
        self._deeds = DeedsInRow(attempt)
        self._listed: Sequence[PictureChoice] = ()
        self._statement = Pane("picture-statement", WrappedText("picture-task"))
        self._said = Pane("picture-said", WrappedText("picture-told"))

    def compose(self) -> ComposeResult:
        """Lay out the statement, the list beside the picture, and what is said."""
        with Horizontal(id="top"):
            yield Static(self._heading, id="heading", markup=False)
            yield Static(id="progress", markup=False)
        yield self._statement
        with Horizontal(id="middle"):
            yield OptionList(id="choices", markup=False, compact=True)
            yield MadeDiagram()
        with Cautioned("picture-desk"):
            yield self._said
            yield Static(id="picture-ask", markup=False)
        yield KeyLine()
        yield TooSmall()

    def on_mount(self) -> None:
        """Show what there is to choose from, and keep what stands at the top up to date."""
        self.query_one("#picture-task", WrappedText).say(self.picture.picture.question.statement)
        self.paint()
        self.set_interval(1.0, self._tell_progress)

    def _tell_progress(self) -> None:
        told = " · ".join(filter(None, (self.picture.progress, self._progress())))
        progress = self.query_one("#progress", Static)
        if str(progress.content) != told:
            progress.update(told, layout=False)

    def take(self, reply: Reply) -> None:
        """Show what came of something; close once there is nothing to draw any more."""
        self._deeds.done()
        if isinstance(reply, Unkept):
            self._unkept = f"{reply.heading}: {reply.told}"
            self._deeds.clear()  # what waits for the disk comes first
        else:
            self._answer, self._unkept = reply, ""
            self._move_on()
        if self.picture.picture.is_closed:
            while self.app.screen is not self:  # such as help, which was opened meanwhile
                self.app.pop_screen()
            self.dismiss("done")
            return
        self.paint()
        self._deeds.go_on()

    def _move_on(self) -> None:
        """Light the next thing to choose, where the light still is on what was put in."""
        item, self._put_in = self._put_in, ""
        if item and self._choices.step is ChoiceStep.ITEM and self._lit == item:
            self._latest = self._choices.next_to(item)

    def paint(self) -> None:
        """Show how everything stands."""
        self._tell_progress()
        self._list()
        is_first = self._choices.step is ChoiceStep.ITEM
        asks = f"{self._choices.asks} {_HOW}" if is_first else self._choices.asks
        self.query_one("#picture-ask", Static).update(asks, layout=False)
        troubles = [one for one in (self._unkept, self._dialogue.unsaved) if one]
        told = _told(troubles, self._answer, self.picture.asks)
        self.query_one("#picture-told", WrappedText).say(told)
        self.share()
        self.draw()
        self.refresh_bindings()

    def _list(self) -> None:
        """List the choices, with the lit one where it was."""
        listed = self.query_one("#choices", OptionList)
        choices = self._choices.choices
        keys = [choice.key for choice in choices]
        lit = listed.highlighted if keys == [one.key for one in self._listed] else 0
        if self._choices.step is ChoiceStep.ITEM and self._latest in keys:
            lit = keys.index(self._latest)
        self._latest, self._listed = "", choices
        listed.clear_options()
        width = self.size.width - self._picture_columns - _BESIDE_LIST
        listed.add_options([Option(_told_choice(n, c, width)) for n, c in enumerate(choices, 1)])
        listed.highlighted = lit

    def share(self) -> None:
        """Share out the rows between statement, picture and what is said."""
        width, rows = self.size.width - _EDGE, self.size.height - _AROUND
        said = min(self._said.needs(width), _MOST_SAID, rows - _LOWEST - _LEAST_STATED)
        stated = min(self._statement.needs(width), max(_LEAST_STATED, rows - said - 2 * _LOWEST))
        stated = min(stated, rows - said - _LOWEST)
        self.query_one(MadeDiagram).styles.width = self._picture_columns
        self._said.give(max(said, 1), width)
        self._statement.give(stated, width)

    def on_resize(self) -> None:
        """Share out the rows of the new size, then list what there is in its columns."""
        if self.is_mounted:
            self.share()
            self._list()

    @property
    def _picture_columns(self) -> int:
        return _WIDE_PICTURE if self.size.width >= WIDE_COLUMNS else _PICTURE

    @on(OptionList.OptionHighlighted)
    def draw(self) -> None:
        """Draw the picture, with what is looked at."""
        key = self._lit
        tried = None if key is None else self._choices.tried(key)
        self.query_one(MadeDiagram).draw(self._made, tried)

    @property
    def _lit(self) -> str | None:
        """Return the key of the choice that is lit; None where none is."""
        lit = self.query_one("#choices", OptionList).highlighted
        return self._listed[lit].key if lit is not None and lit < len(self._listed) else None

    @on(OptionList.OptionSelected)
    def choose(self, event: OptionList.OptionSelected) -> None:
        """Take the choice that was made."""
        event.stop()
        self._choose(event.option_index)

    @on(MadeDiagram.Clicked)
    def choose_in_picture(self, event: MadeDiagram.Clicked) -> None:
        """Choose the point that was clicked, or the direction towards there."""
        event.stop()
        points = event.points[: len(self.picture.picture.places)]
        key = self._choices.nearest(event.at, points)
        if key is not None:
            self._choose([one.key for one in self._listed].index(key))

    def _choose(self, index: int) -> None:
        if index >= len(self._listed):
            return
        placing = self._choices.choose(self._listed[index].key)
        if placing is not None:
            self._latest = self._put_in = placing.item
        self.paint()  # a key that comes before the answer is meant for the next choice
        if placing is not None:
            self._deeds.add(lambda: self.picture.place(placing))

    def action_digit(self, number: int) -> None:
        """Choose by a digit."""
        self._choose(number - 1)

    def action_back(self) -> None:
        """Go back by one choice."""
        if self._choices.back():
            self.paint()

    def action_take_away(self) -> None:
        """Take the lit thing away, or what is being placed anew."""
        item = self._choices.item or self._lit
        if item is not None:
            self._choices.begin()
            self._deeds.add(lambda: self.picture.take_away(item))

    def action_hint(self) -> None:
        """Show the next hint."""
        self._deeds.add(self.picture.hint)

    def action_skip(self) -> None:
        """Go on without the picture."""
        self._deeds.add(self.picture.skip)

    def action_finish(self) -> None:
        """Say that the picture is complete."""
        self._deeds.add(self.picture.finish)

    def action_look(self, way: int) -> None:
        """Scroll what may be longer than its room."""
        for pane in self.query(Scrolled):
            leaf(pane, way)

    def action_elsewhere(self, where: str) -> None:
        """Go to another task or the next problem of a set, or hand in."""
        self.dismiss(where)

    def action_leave(self) -> None:
        """Go back by one choice, or else leave."""
        if not self._choices.back():
            self.dismiss("leave")
            return
        self.paint()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer only what can be done now."""
        is_first = self._choices.step is ChoiceStep.ITEM
        if action == "hint":
            return self._dialogue.working.rules.hints
        if action == "elsewhere":
            return parameters[0] in self._ways
        if action == "take_away":
            return is_first or self._choices.item in self.picture.picture.placed
        if action == "finish":
            return is_first
        return not is_first if action == "back" else True


def _told_choice(number: int, choice: PictureChoice, width: int) -> str:
    """Return how a choice is listed: its digit, how it stands, and what it is, in so many columns.

    Further rows begin below the first word.
    """
    digit = str(number) if number <= _DIGITS else " "
    sign = MARKS[choice.mark].sign if choice.mark.name != "OPEN" else " "
    cuts = [0, *row_starts(choice.label, width - _BEFORE), len(choice.label)]
    rows = [choice.label[begin:end].rstrip() for begin, end in pairwise(cuts)]
    return f"{digit} {sign} " + f"\n{' ' * _BEFORE}".join(rows)


def _told(troubles: Sequence[str], answer: DialogueAnswer | None, asks: str) -> Content:
    """Return what is said: what came of the last thing, or else what is to be done."""
    parts = [Content.styled(f"! {one}", "$warning bold") for one in troubles]
    if answer is None:
        return Content("\n").join([*parts, Content(asks)])
    if answer.told:
        shown = MARKS[answer.mark]
        parts.append(Content(f"{shown.sign} {answer.told}".strip()))
    hints = () if answer.hint is None else (answer.hint,)
    return Content("\n").join([*parts, *remarks(None, "", hints, "", "")])
