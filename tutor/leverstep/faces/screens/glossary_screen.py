"""The glossary: what the terms of the line at hand mean, and all others to choose from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from textwrap import fill
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from leverstep.course.phrases import capital
from leverstep.course.problem import Question
from leverstep.dialogue.terms_told import called_too, terms_of_line
from leverstep.faces.material import Material
from leverstep.faces.screens.caution import Caution
from leverstep.faces.screens.room import leaf
from leverstep.glossary.glossary import Glossary
from leverstep.glossary.term import GlossaryTerm
from leverstep.statics.step import Step
from leverstep.working.cautions import CAUTION_IN_SHORT

_CSS = """
GlossaryScreen {
    align: center middle;
    background: $background;
    & #help {
        width: 80; max-width: 100%; height: 100%; max-height: 30;
        background: $surface; border: solid $rule; padding: 0 1;
    }
    & Horizontal { height: 1fr; }
    & OptionList { width: 28; height: 1fr; background: $surface; border-right: solid $rule; }
    & #meaning { width: 1fr; padding: 0 0 0 1; scrollbar-size-vertical: 1; }
    & #caution { padding: 0; }
    & #help-foot { height: 1; color: $quiet; }
}
"""
"""Read when it is first opened, so that the first screen does not wait for it."""

_NAMED = 25
"""Columns of a name in the list, beside its rule and its scroll bar."""


class GlossaryScreen(ModalScreen[None]):
    """The terms of the line at hand first, then all, over the screen that they were asked from."""

    CSS = _CSS
    AUTO_FOCUS = "#terms"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss", "Close", id="read.close", tooltip="Close this"),
        Binding(
            "pagedown", "look(1)", "Read on", id="terms.down", priority=True,
            tooltip="Scroll what is said of the term down",
        ),
        Binding(
            "pageup", "look(-1)", "Read back", id="terms.up", priority=True,
            tooltip="Scroll what is said of the term up",
        ),
    ]  # fmt: skip

    @dataclass
    class TermsRead(Message):
        """The terms have been read."""

        glossary: Glossary

    def __init__(self, material: Material, line: tuple[Question, Step] | None) -> None:
        """Open it; `line` is the line at hand with its question, None where there is none."""
        super().__init__()
        self._material = material
        self._line = line
        self._shown: dict[str, GlossaryTerm] = {}

    def compose(self) -> ComposeResult:
        """Lay out the list, and what is said of the term that is lit in it."""
        with Vertical(id="help"):
            with Horizontal():
                yield OptionList(id="terms", markup=False, compact=True)
                with VerticalScroll(id="meaning", can_focus=False):
                    yield Static(id="term", markup=False)
            yield Caution(CAUTION_IN_SHORT)
            yield Static("↑ ↓ another term; PgDn PgUp scroll; Esc closes this", id="help-foot")

    def on_mount(self) -> None:
        """Have the terms read: those of a teacher's own may lie on a share."""
        self.read_terms()

    @work(thread=True, group="terms")
    def read_terms(self) -> None:
        """Read the terms beside the screen."""
        self.post_message(self.TermsRead(Glossary(self._material.catalogue.terms)))

    @on(TermsRead)
    def list_terms(self, event: TermsRead) -> None:
        """List the terms, the first of the line at hand lit."""
        event.stop()
        listed = self.query_one("#terms", OptionList)
        listed.add_options(self._options(event.glossary))
        listed.action_first()

    def _options(self, glossary: Glossary) -> Iterator[Option]:
        """Yield the lines of the list: a heading for each part, then its terms."""
        parts = {"All terms": glossary.by_name}
        if self._line is not None:
            parts = {"Of this line": terms_of_line(glossary, *self._line), **parts}
        for heading, terms in parts.items():
            yield Option(heading, disabled=True)
            for number, term in enumerate(terms):
                ident = f"{heading} {number}"
                self._shown[ident] = term
                name = fill(term.name, _NAMED, initial_indent=" ", subsequent_indent="   ")
                yield Option(name, id=ident)

    @on(OptionList.OptionHighlighted)
    def show_term(self, event: OptionList.OptionHighlighted) -> None:
        """Say what the term that is lit means."""
        event.stop()
        term = self._shown.get(event.option.id or "")
        if term is not None:
            self.query_one("#term", Static).update(_told(term))
            self.query_one("#meaning", VerticalScroll).scroll_home(animate=False)

    def action_look(self, way: int) -> None:
        """Scroll what is said of the term."""
        leaf(self.query_one("#meaning", VerticalScroll), way)


def _told(term: GlossaryTerm) -> Content:
    """Return all that is said of a term: its other names and its picture in words come last."""
    name = Content.styled(capital(term.name), "$primary bold")
    last = " ".join(part for part in (called_too(term), f"The picture: {term.seen}") if part)
    parts = (term.what, "", *term.picture, "", term.everyday, "")
    return Content("\n").join([name, *map(Content, parts), Content.styled(last, "$quiet")])
