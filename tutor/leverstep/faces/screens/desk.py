"""The desk at the foot of the screen: what is asked, the entry, and what is said of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.message import Message
from textual.widgets import Input, Static

from leverstep.dialogue.earlier_entries import EarlierEntries
from leverstep.dialogue.pasted_lines import lines_of
from leverstep.dialogue.replies import Asked, DialogueAnswer, HintGiven, Mark, Way
from leverstep.dialogue.symbols_told import completed
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.entry.tokens import LONGEST_ENTRY
from leverstep.faces.screens.caution import Cautioned
from leverstep.faces.screens.field import Field
from leverstep.faces.screens.marks import MARKS
from leverstep.faces.screens.pane import Pane, WrappedText

_INK = {
    "-ok": "$success bold",
    "-wrong": "$warning bold",
    "-left": "$secondary bold",
    "-taken": "bold",
}


WAYS = {
    Way.BACK: "Shift+Tab goes back to it.",
    Way.HINTS: "",
    Way.UNITS: "Ctrl+T has such numbers taken in the unit asked for.",
}
"""What the keys do that lead on from an answer."""


class LineField(Field):
    """The field for one line. A text of several that is pasted is handed on, and is not put in.

    Tab completes one of its `symbols` that is begun before the cursor. `earlier` is what was typed
    here before.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "up", "bring_back(1)", "Typed before", id="line.earlier", show=False, system=True,
            tooltip="Bring back what you typed at this line before; again: what came before that",
        ),
        Binding(
            "down", "bring_back(-1)", "Typed after", id="line.later", show=False, system=True,
            tooltip="Go forward again, up to what you had half typed",
        ),
        Binding(
            "tab", "screen.choose(1)", "Line after", id="work.after", show=False, system=True,
            tooltip="Go to the next line again; where a symbol is begun, complete it",
        ),
    ]  # fmt: skip
    DEEDS: ClassVar[dict[str, str]] = {
        **Field.DEEDS, "up": "bring_back(1)", "down": "bring_back(-1)",
    }  # fmt: skip

    symbols: tuple[str, ...] = ()

    def __init__(self) -> None:
        super().__init__(id="entry", compact=True, select_on_focus=False, max_length=LONGEST_ENTRY)
        self.earlier = EarlierEntries()

    @dataclass
    class Pasted(Message):
        """Several lines were pasted."""

        lines: tuple[str, ...]

    def on_paste(self, event: events.Paste) -> None:
        """Hand on what is more than one line."""
        lines = lines_of(event.text)
        if len(lines) > 1:
            event.prevent_default()
            event.stop()
            self.post_message(self.Pasted(lines))

    async def on_key(self, event: events.Key) -> None:
        """Complete a symbol with Tab, which otherwise does what it does everywhere."""
        if event.key != "tab":
            return
        rest = completed(self.value[: self.cursor_position], self.symbols)
        if rest:
            event.prevent_default()
            event.stop()
            self.insert_text_at_cursor(rest)

    def action_bring_back(self, way: int) -> None:
        """Put in what was typed before (1), or after that (-1)."""
        self.value = self.earlier.beside(self.value, way)
        self.cursor_position = len(self.value)


class Desk(Cautioned):
    """Where the student writes. It keeps what is typed at each line until it is right.

    `entry` is the field that is typed into.
    """

    @dataclass
    class Entered(Message):
        """A line has been entered."""

        text: str

    def __init__(self) -> None:
        super().__init__()
        self.entry = LineField()
        self._asked: Asked | None = None
        self._settled = False
        self._is_elsewhere = False
        self._checked = ""
        self._marked = ""
        self._pages: dict[int, dict[str, str]] = {}
        self._drafts = self._pages.setdefault(0, {})
        self._ask = WrappedText("ask")
        self._ask.say("Preparing…")
        self._early: list[str] = []
        self._said = WrappedText("said")
        self._answer = Pane("answer", self._said)

    def compose(self) -> ComposeResult:
        """Lay out answer, question and entry, which so is always on the same row."""
        yield self._answer
        yield self._ask
        with Horizontal(id="pen"):
            yield Static(id="prompt", markup=False)
            yield self.entry
            yield Static(id="mark", markup=False)

    def tell_mark(self, mark: Mark) -> None:
        """Tell the mark of the line at hand in words, as long as the field has what it is of."""
        self._marked = self.entry.value
        shown = MARKS[mark]
        told = self.query_one("#mark", Static)
        if str(told.content) != shown.text:
            told.update(Content.styled(shown.text, _INK.get(shown.style, "")))
        told.display = bool(shown.text)

    @on(Input.Changed)
    def drop_mark(self, event: Input.Changed) -> None:
        """Tell no mark of a text that is not what it was."""
        mark = self.query_one("#mark", Static)
        mark.display = bool(str(mark.content)) and event.value == self._marked

    @on(Input.Submitted)
    def pass_on(self, event: Input.Submitted) -> None:
        """Pass an entry on, unless there is nothing in it; before anything is asked it is kept."""
        event.stop()
        if not event.value.strip():
            return
        if self._asked is None:
            self.entry.value = ""
            self._keep_early([event.value])
        else:
            self.post_message(self.Entered(event.value))

    @on(LineField.Pasted)
    def keep_pasted(self, event: LineField.Pasted) -> None:
        """Keep lines that are pasted before anything is asked."""
        if self._asked is None:
            event.stop()
            self._keep_early(event.lines)

    def _keep_early(self, lines: Iterable[str]) -> None:
        self._early += lines
        self._ask.say("Preparing… What you entered is kept, and is checked then.")

    def take_early(self) -> list[str]:
        """Return what was entered before anything was asked; it is not kept any more."""
        early, self._early = self._early, []
        return early

    def ask_for(self, asked: Asked) -> None:
        """Ask for a line. Its last text comes back: as typed before, or as it stands."""
        self.tell_asked(asked)
        prompt = self.query_one("#prompt", Static)
        if prompt.content != asked.prompt:
            prompt.update(asked.prompt)
        self.entry.placeholder = f"for example {asked.example}"
        is_other = self._asked is None or self._asked.key != asked.key
        typed_ahead = self.entry.value if self._asked is None or self._settled else ""
        self._settled = False
        if not is_other:
            return
        if not typed_ahead:
            self._put_by()
        self._asked = asked
        half_typed = self._drafts.pop(asked.key, "")
        self.entry.value = half_typed or asked.standing or typed_ahead
        self.entry.cursor_position = len(self.entry.value)
        if asked.standing and not half_typed:
            self.entry.action_select_all()
        if not self.entry.has_focus:
            self.call_after_refresh(self.entry.focus)

    def tell_asked(self, asked: Asked) -> None:
        """Say what is asked for, where it is written elsewhere."""
        self._ask.say(f"{asked.asks} {asked.aside}".rstrip())

    def make_way(self) -> str:
        """Have lines written elsewhere from now on; return what was typed here.

        What is said can be gone to with the focus then, since that has another place to go from.
        """
        self._is_elsewhere = True
        self._answer.scrolled.can_focus = True
        typed = "\n".join(filter(None, [*self.take_early(), self.entry.value]))
        self.entry.value = ""
        return typed

    def turn_to(self, page: int) -> None:
        """Turn to another working; what is typed at this one is kept."""
        self.rest()
        self._settled, self._checked = False, ""
        self._drafts = self._pages.setdefault(page, {})

    def rest(self) -> None:
        """Ask for nothing, at the end of a working."""
        self._put_by()
        self._asked, self.entry.value = None, ""

    def give_up(self, why: Iterable[Content]) -> None:
        """Say that there is nothing to ask for."""
        self._ask.say("This working can't be opened. Press Esc to go back.")
        self.say(why)

    def _put_by(self) -> None:
        """Keep what is typed at this line for when it is come back to."""
        if self._asked is not None and self.entry.value:
            self._drafts[self._asked.key] = self.entry.value

    def put_back(self, page: int, key: str, text: str) -> None:
        """Keep a text for a line of a working, as if it had been typed there before."""
        self._pages.setdefault(page, {})[key] = text

    def half_typed(self) -> Iterator[tuple[int, str, str]]:
        """Yield what is typed and was not entered: the working, the line, and the text."""
        for page, drafts in self._pages.items():
            texts, asked = dict(drafts), self._asked
            if drafts is self._drafts and asked is not None:
                texts[asked.key] = "" if self.entry.value == asked.standing else self.entry.value
            for key, text in texts.items():
                if text.strip() and text != self._checked:
                    yield page, key, text

    def take(self, answer: DialogueAnswer) -> None:
        """Take a line that stands out of the field; any other text is typed over, or mended."""
        if answer.verdict is None:
            is_free = self._asked is not None and not self._asked.key
            if is_free and answer.moves_on and self.entry.value == self._checked:
                self.entry.value = ""  # it was for the line that is left
            return
        self._checked = answer.typed
        # What was typed while a right line was checked is meant for the next one.
        self._settled = answer.moves_on
        if self.entry.value != answer.typed:
            return
        if answer.moves_on or answer.is_elsewhere:
            self.entry.value = ""
        else:
            if self._asked is not None:
                self.entry.value = self._checked = after_prompt(answer.typed, self._asked)
            self.entry.action_select_all()

    def say(self, parts: Iterable[Content], is_last_new: bool = False) -> None:
        """Show what is said of the line, one part under the other.

        What has no room for all shows the first part, or the last where that is what is new.
        """
        told = list(parts)
        if self._said.say(Content("\n").join(told)):
            self._answer.to_top()
            if is_last_new:
                self._answer.pass_over(self._said, Content("\n").join(told[:-1]))

    @property
    def field_rows(self) -> int:
        """Return the rows of the field: none where lines are written elsewhere."""
        return 0 if self._is_elsewhere else 1

    def needs(self, width: int) -> tuple[int, int]:
        """Return the rows of all that is said, and of what is asked, in so many columns."""
        return self._answer.needs(width), len(self._ask.rows(width))

    def share(self, rows: int, width: int) -> None:
        """Give so many rows to what is said; `width` are the columns of a text."""
        self._answer.give(rows, width)


def after_prompt(text: str, asked: Asked) -> str:
    """Return a text without the symbol that stands before the field already: `M_s =`."""
    name, equals, said = text.partition("=")
    is_named = asked.key and equals and "=" not in said and f"{name.strip()} =" == asked.prompt
    return said.strip() if is_named else text


def keys_there_are(dialogue: WorkingDialogue) -> str:
    """Return which keys there are where nothing else is to be said."""
    rules = dialogue.working.rules
    enters = "Enter checks the line" if rules.tells else "Enter saves the line"
    hint = " · F2 hints" if rules.hints else ""
    leads = ""
    if dialogue.is_free:
        leads = " · F8 what is missing"
    elif dialogue.chosen:
        leads = " · F4 line to be done"
    elif dialogue.before is not None:
        leads = " · Shift+Tab back a line"
    return f"{enters}{hint} · ↑ typed here before{leads}"


def remarks(
    answer: DialogueAnswer | None,
    told: str,
    hints: Iterable[HintGiven],
    name: str,
    asked: str,
    ways: Mapping[Way, str] = WAYS,
) -> list[Content]:
    """Return what is to be said at a line: the verdict, what else changed, and the hints.

    Args:
        answer: what came of the last thing done.
        told: what is said of the entry that stands there, if it is wrong.
        hints: those shown for it.
        name: what the line is called that `told` is about.
        asked: what the line is called that is asked for; "" where any may be written, so that each
            must be named.
        ways: what is said of how to go on from an answer.
    """
    parts: list[Content] = []
    if answer is not None and answer.verdict is not None:
        named = answer.name if not asked or answer.name != name else ""
        way = "" if answer.way is None else ways[answer.way]
        parts.append(_marked(answer.mark, named, f"{answer.told} {way}".rstrip()))
    elif answer is not None and answer.told:
        way = "" if answer.way is None else ways[answer.way]
        parts.append(Content(f"{answer.told} {way}".rstrip()))
    elif told:
        parts.append(_marked(Mark.WRONG, name if name != asked else "", told))
    if answer is not None:
        parts += [Content(told) for told in (answer.changed, answer.moved) if told]
    for hint in hints:
        parts.append(Content.assemble((f"{hint.heading}  ", "$primary bold"), hint.text))
    return parts


def warning_of(heading: str, told: str) -> Content:
    """Return a warning behind what it is headed with."""
    return Content.assemble((f"{heading}: ", "$warning bold"), told)


def _marked(mark: Mark, name: str, told: str) -> Content:
    shown = MARKS[mark]
    head = (f"{shown.sign} ", _INK[shown.style])
    return Content.assemble(head, f"{name}: " if name else "", told)
