"""What a problem is opened with: its numbers, those of the own body, and how far one is led."""

from __future__ import annotations

from dataclasses import dataclass

from textual import events, on, work
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.widgets import Input, Static

from leverstep.course.faults import FileError
from leverstep.faces.screens.choices_listed import Choices
from leverstep.faces.screens.field import Field

LONGEST_OWN = 80
"""Characters for what a student measured on the own body."""


class OpeningFields(Vertical):
    """The fields, and a line beneath that tells what is wrong there, or within which limits.

    Numbers of the own body are typed only where the line that is lit takes any, and are judged
    before it is opened.
    """

    class Filled(Message):
        """What was typed is done with, and can be used."""

    @dataclass
    class Judged(Message):
        """The numbers of the own body were judged; `told` says why they can't be taken."""

        told: str

    def __init__(self, choices: Choices) -> None:
        super().__init__()
        self._choices = choices
        self._lit = self._refused = ""

    def compose(self) -> ComposeResult:
        """Lay out the fields and the line."""
        with Horizontal(id="chooser"):
            yield Static("Numbers", id="seed-name", markup=False)
            yield Field(
                id="seed", compact=True, select_on_focus=False, max_length=24,
                placeholder="new ones if empty",
            )  # fmt: skip
            yield Static(self._choices.AS_BEGUN, id="seed-none", markup=False)
            yield Static("Own body", id="own-name", markup=False)
            yield Field(id="own", compact=True, select_on_focus=False, max_length=LONGEST_OWN)
            yield Static(id="own-none", markup=False)
        yield Static(self._choices.led, id="guidance", markup=False)

    @property
    def own(self) -> Input:
        """Return the field for the numbers of the own body."""
        return self.query_one("#own", Input)

    @property
    def typed(self) -> tuple[str, str]:
        """Return what is typed: what the numbers are drawn from, and those of the own body."""
        return self.query_one("#seed", Input).value.strip(), self.own.value.strip()

    def fit(self, ident: str) -> None:
        """Have typed what the line that is lit can be opened with."""
        self._lit = ident
        none = self.query_one("#own-none", Static)
        is_new = self._choices.unfinished(ident) is None
        self.query_one("#seed").display = is_new
        self.query_one("#seed-none").display = not is_new
        self.own.placeholder = self._choices.own_asked(ident)
        self.own.display = bool(self.own.placeholder)
        none.update(self._choices.own_refused(ident))
        none.display = not self.own.display
        self.forget_refusal()

    @on(events.DescendantFocus, "#own")
    @on(events.DescendantBlur, "#own")
    def tell_below(self) -> None:
        """Say what is wrong with the numbers of the own body, their limits, or how one is led."""
        line, wrong = self.query_one("#guidance", Static), self._refused
        line.set_class(bool(wrong), "-wrong")
        limits = f"{self._choices.limits(self._lit)}; Enter checks them."
        line.update(f"✗ {wrong}" if wrong else limits if self.own.has_focus else self._choices.led)

    @on(Input.Changed, "#own")
    def forget_refusal(self) -> None:
        """Say within which limits numbers are taken, once others are typed or asked for."""
        self._refused = ""
        self.tell_below()

    @on(Input.Submitted, "#own")
    def judge(self, event: Input.Submitted) -> None:
        """Judge the numbers of the own body."""
        event.stop()
        self.read_own_numbers(self._lit, event.value.strip())

    @work(thread=True, exclusive=True, group="own")
    def read_own_numbers(self, ident: str, typed: str) -> None:
        """Read beside the screen, since the limits stand in the file of the problem."""
        from leverstep.working.own import OwnError  # light until a problem is chosen

        told = ""
        try:
            self._choices.opening(ident, "", typed)
        except FileError:
            pass  # which is told where it is opened
        except OwnError as error:
            told = f"{error}."
        self.post_message(self.Judged(told))

    @on(Judged)
    def tell_judged(self, event: Judged) -> None:
        """Say why the numbers can't be taken, and stay; or be done."""
        event.stop()
        if event.told:
            self.refuse(event.told)
        else:
            self.post_message(self.Filled())

    def refuse(self, reason: str) -> None:
        """Go to the own body's numbers, and say why they can't be taken."""
        self._refused = reason
        self.own.focus()
        self.tell_below()

    @on(Input.Submitted, "#seed")
    def be_done(self, event: Input.Submitted) -> None:
        """Be done with what the numbers are drawn from."""
        event.stop()
        self.post_message(self.Filled())
