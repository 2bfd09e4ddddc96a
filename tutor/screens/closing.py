"""The panel at the end of a working: how it went, and where to go from here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Static

from tutor.screens.sitting import News, summary

if TYPE_CHECKING:
    from tutor.drill.practice import Practice


class Closing(Vertical):
    """Stands in the place of the desk when no line is left to do."""

    def compose(self) -> ComposeResult:
        """Lay out the headline, the account, and the keys."""
        yield Static(id="headline", markup=False)
        yield Static(id="account", markup=False)
        yield Static(
            "F7   the same problem with new numbers\n"
            "↑    change a line\n"
            "Esc  choose another problem",
            id="onward",
            markup=False,
        )

    def tell(self, practice: Practice, news: News | None) -> None:
        """Tell how the working went."""
        headline, account = summary(practice)
        changed = "" if news is None or not news.changed else f"\n{news.changed}"
        self.set_class(practice.working.complete, "-ok")
        self.query_one("#headline", Static).update(headline)
        self.query_one("#account", Static).update(account + changed)
