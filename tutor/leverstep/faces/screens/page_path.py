"""Asks where the page of a working is to be written, and says what came of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.message import Message
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from leverstep.faces.screens.asides import LONGEST_PATH
from leverstep.faces.screens.field import Field
from leverstep.faces.screens.styles import styles
from leverstep.sheets.own_page import PageKept

_KEYS = "Enter  write it; no file is written over\nEsc    go back"


class PagePathScreen(ModalScreen[None]):
    """Asks for a path until a page is written or the student goes back."""

    CSS = styles("aside")
    SCOPED_CSS = False
    AUTO_FOCUS = "#path"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss", "Back", id="page-path.back", tooltip="Go back"),
    ]

    @dataclass
    class Written(Message):
        """It is known what came of writing the page."""

        kept: PageKept

    def __init__(self, usual: str, keep: Callable[[str], PageKept]) -> None:
        """Ask for a path.

        Args:
            usual: the one that is offered.
            keep: what writes the page to a path.
        """
        super().__init__()
        self._usual = usual
        self._keep = keep
        self._is_written = False

    def compose(self) -> ComposeResult:
        """Lay out the question, the field, and the keys."""
        with Vertical(id="aside"):
            yield Static(
                "Write your working to this file, ending in .html, .md, .tex or .txt:\n",
                markup=False,
            )
            yield Field(
                self._usual, id="path", compact=True, select_on_focus=False, max_length=LONGEST_PATH
            )
            yield Static(id="trouble", markup=False)
            yield Static(_KEYS, id="keys", markup=False)

    @on(Input.Submitted)
    def write(self, event: Input.Submitted) -> None:
        """Write the page; once it is written, Enter goes back."""
        event.stop()
        if self._is_written:
            self.dismiss()
        else:
            self.write_page(event.value)

    @work(thread=True, exclusive=True, group="page")
    def write_page(self, typed: str) -> None:
        """Write beside the screen, since a disk may take its time."""
        self.post_message(self.Written(self._keep(typed)))

    @on(Written)
    def tell(self, event: Written) -> None:
        """Say where the page is, or why there is none."""
        event.stop()
        self._is_written = event.kept.path is not None
        self.query_one("#trouble", Static).update(f"{event.kept.told}\n")
        if self._is_written:
            self.query_one("#keys", Static).update("Enter  go back")
