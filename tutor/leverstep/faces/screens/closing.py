"""The panel at the end of a working: how it went, and where to go from here."""

from __future__ import annotations

from collections.abc import Iterable

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static

from leverstep.bench.bench import Bench
from leverstep.faces.screens.caution import Caution
from leverstep.faces.screens.marks import CLOSED, MARKS
from leverstep.faces.screens.news import News, summary
from leverstep.working.verdict import Outcome


class Closing(Vertical):
    """Stands in the place of the desk when no line is left to do; `onward` names the keys."""

    def __init__(self, onward: str) -> None:
        super().__init__()
        self._onward = onward

    def compose(self) -> ComposeResult:
        """Lay out the headline, the account, and the keys."""
        yield Static(id="headline", markup=False)
        yield Static(id="account", markup=False)
        yield Caution()
        yield Static(self._onward, id="onward", markup=False)

    def tell(self, bench: Bench, news: News | None, warnings: Iterable[Content]) -> None:
        """Tell how the working went, and what must be said whatever else is."""
        headline, account = summary(bench)
        changed = [Content(news.changed)] if news is not None and news.changed else []
        is_wrong = news is not None and news.mark in (MARKS[Outcome.WRONG], CLOSED)
        last = [Content(f"{news.name}: {news.told}")] if news is not None and is_wrong else []
        self.set_class(bench.working.complete, "-ok")
        self.query_one("#headline", Static).update(headline)
        is_open = bool(bench.working.to_find)
        way_back = [Content("F4 goes to the first line that is still open.")] if is_open else []
        told = [*warnings, *last, Content(account), *changed, *way_back]
        self.query_one("#account", Static).update(Content("\n").join(told))
