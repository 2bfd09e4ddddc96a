"""The panel of a question with answers to choose from: a digit answers it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message

from leverstep.faces.screens.caution import Cautioned
from leverstep.faces.screens.field import Field
from leverstep.faces.screens.pane import WrappedText
from leverstep.questions.choice_question import ChoiceQuestion

MOST_ANSWERS = 7
"""So many answers have a digit of their own."""

SKIP = "f3"
_SKIPS = f"{SKIP.upper()} skips it"
_KEYS = f"A digit answers · {_SKIPS}"
_ON = "Enter goes on"
_TYPED = frozenset({*Field.DEEDS, SKIP})
"""Keys without a sign that are kept in their order, since they may be for the field."""

_DIGITS = frozenset("123456789")
_APART = "   "


class ChoicePanel(Cautioned, can_focus=True):
    """Stands in the place of the desk while a question is asked.

    It keeps the keys typed at it in their order until they are taken: however fast they come, each
    is for the question that stands when it is its turn, or for what comes after the last one.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        *(
            Binding(
                str(number), f"choose({number})", f"Answer {number}", id=f"choice.{number}",
                system=True, tooltip=f"Choose answer {number}",
            )
            for number in range(1, MOST_ANSWERS + 1)
        )
    ]  # fmt: skip

    class Typed(Message):
        """There is a key that was typed and is not taken."""

    def __init__(self) -> None:
        super().__init__()
        self._question: ChoiceQuestion | None = None
        self._typed: list[events.Key] = []
        self._told = WrappedText("told")
        self._asks = WrappedText("asks")
        self._answers = WrappedText("answers")
        self._keys = WrappedText("choice-keys")

    def compose(self) -> ComposeResult:
        """Lay out what was said last, the question, its answers, and the keys."""
        yield from (self._told, self._asks, self._answers, self._keys)

    def put(
        self, question: ChoiceQuestion, place: str, told: Iterable[Content], width: int
    ) -> None:
        """Show a question.

        Args:
            question: what is asked.
            place: which of several it is, "" for the only one.
            told: what is said first.
            width: the columns of a text.
        """
        self._question = question
        parts = list(told)
        self._told.say(Content("\n").join(parts))
        self._told.display = bool(parts)
        self._asks.say(f"{place}. {question.asks}" if place else question.asks)
        self._answers.say("\n".join(answer_rows(question, width)))
        self._answers.display = not question.is_read
        self._keys.say(_ON if question.is_read else _KEYS)

    def needs(self, width: int) -> int:
        """Return the rows of all that is shown, in so many columns."""
        shown = (self._told, self._asks, self._answers, self._keys)
        return sum(len(one.rows(width)) for one in shown if one.display)

    def on_key(self, event: events.Key) -> None:
        """Keep what is typed, before the app comes to it."""
        if event.is_printable or event.key in _TYPED:
            event.stop()
            event.prevent_default()
            self.press(events.Key(event.key, event.character))

    def press(self, key: events.Key) -> None:
        """Keep a key until it is its turn."""
        self._typed.append(key)
        self.post_message(self.Typed())

    def take_choice(self) -> int | None:
        """Take the keys up to the first that answers: its digit, 0 to skip; None where none does.

        What else is typed at a question answers nothing; after Enter that is said.
        """
        while self._typed:
            key = self._typed.pop(0).key
            if key == "enter" and self._question is not None:
                if self._question.is_read:
                    return 1
                last = len(self._question.answers)
                self._keys.say(f"Enter chooses none: press a digit, 1 to {last} · {_SKIPS}")
            if key == SKIP or key in _DIGITS:
                return 0 if key == SKIP else int(key)
        return None

    def take_typed(self) -> list[events.Key]:
        """Take all keys; they are not kept any more."""
        typed, self._typed = self._typed, []
        return typed

    def action_choose(self, number: int) -> None:
        """Choose an answer."""
        self.press(events.Key(str(number), None))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer the digits of the answers alone."""
        if action != "choose":
            return super().check_action(action, parameters)
        question, (number,) = self._question, parameters
        return question is not None and number in range(1, len(question.answers) + 1)


def answer_rows(question: ChoiceQuestion, width: int) -> Iterator[str]:
    """Yield the answers behind their digits: as many in a row as have room, none cut in two."""
    row = ""
    for number, answer in enumerate(question.answers, 1):
        told = f"{number} {answer.text}"
        if row and len(row) + len(_APART) + len(told) > width:
            yield row
            row = ""
        row = f"{row}{_APART}{told}" if row else told
    yield row
