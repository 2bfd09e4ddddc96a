"""The calculator over a working: arithmetic with what is given and written there."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from leverstep.entry.tokens import LONGEST_ENTRY
from leverstep.faces.screens.caution import Cautioned
from leverstep.faces.screens.field import Field
from leverstep.working.reckoner import Reckoned, Reckoner

_BEGIN = "Such as 0.27*0.682. To keep a result: a = 0.27*0.682, then a*2; ans is the last one."
_KEYS = "Enter works it out; F2 puts the last result into your line; Esc closes this"

_CSS = """
CalculatorScreen {
    align: center bottom;
    background: transparent;
    & #calculator {
        height: 13; background: $surface; padding: 0 1; border-bottom: solid $rule;
    }
    & #calculator-title { color: $primary; text-style: bold; }
    & #reckoned { height: 1fr; scrollbar-size-vertical: 1; }
    & #calculator-pen { height: 1; }
    & #calculator-prompt { width: auto; padding: 0 1 0 0; color: $accent; text-style: bold; }
    & #sum { width: 1fr; background: $panel; border: none; }
    & #known { height: auto; max-height: 3; color: $quiet; }
    & #calculator-foot { height: 1; color: $quiet; }
}
"""
"""At the foot, so that the statement stays in sight; read when it is first opened."""


class CalculatorScreen(ModalScreen[str]):
    """Works out what is typed; closes with the result that is to be put into the line, or ""."""

    CSS = _CSS
    AUTO_FOCUS = "#sum"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "f2", "use", "Use", id="calculator.use",
            tooltip="Put the last result into your line, and close this",
        ),
        Binding("escape", "leave", "Close", id="calculator.close", tooltip="Close the calculator"),
    ]  # fmt: skip

    def __init__(self, reckoner: Reckoner, reckon: Callable[[str], Reckoned]) -> None:
        """Open it.

        Args:
            reckoner: what has a value, and what was worked out before.
            reckon: what works out a line.
        """
        super().__init__()
        self._reckoner = reckoner
        self._reckon = reckon

    def compose(self) -> ComposeResult:
        """Lay out what was worked out, the field below it, and what has a value."""
        with Cautioned("calculator"):
            yield Static("Calculator: nothing here is an entry", id="calculator-title")
            with VerticalScroll(id="reckoned", can_focus=False):
                yield Static(id="results", markup=False)
            with Horizontal(id="calculator-pen"):
                yield Static("work out:", id="calculator-prompt")
                yield Field(id="sum", compact=True, select_on_focus=False, max_length=LONGEST_ENTRY)
            yield Static(id="known", markup=False)
            yield Static(_KEYS, id="calculator-foot")

    def on_mount(self) -> None:
        """Show what was worked out before."""
        self._paint()

    def _paint(self) -> None:
        """Show what was worked out, the latest last, and what has a value now."""
        done = [_line(one) for one in self._reckoner.done] or [_BEGIN]
        self.query_one("#results", Static).update("\n".join(done))
        known = " · ".join(self._reckoner.has_value)
        self.query_one("#known", Static).update(f"Known: {known}")
        pane = self.query_one("#reckoned", VerticalScroll)
        pane.call_after_refresh(pane.scroll_end, animate=False)

    @on(Input.Submitted)
    def work_out(self, event: Input.Submitted) -> None:
        """Work out what is typed; what could not be stays to be mended."""
        event.stop()
        if event.value.strip():
            if self._reckon(event.value.strip()).result:
                event.input.value = ""
            self._paint()

    def action_use(self) -> None:
        """Close with the last result; where there is none yet, stay."""
        if self._reckoner.last:
            self.dismiss(self._reckoner.last)

    def action_leave(self) -> None:
        """Close with nothing."""
        self.dismiss("")


def _line(one: Reckoned) -> str:
    """Return a line of arithmetic with what it comes to, or why it comes to nothing."""
    return f"{one.typed}   →  {one.told}" if one.result else f"{one.typed}\n  {one.told}"
