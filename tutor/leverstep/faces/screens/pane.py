"""A text that may be longer than its room, and the sign that there is more of it."""

from __future__ import annotations

from collections.abc import Iterable

from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.widgets import Static

from leverstep.faces.screens.written import row_starts

_MORE, _BACK = "PgDn ↓", "PgUp ↑"


class WrappedText(Static):
    """A text whose rows are parted between words, no number from its unit."""

    def __init__(self, ident: str, text: str = "") -> None:
        super().__init__(text, id=ident, markup=False)
        self._parted: tuple[object, int, list[Content]] = (None, 0, [])

    def say(self, told: Content | str) -> bool:
        """Show another text; return whether it is another."""
        is_other = told != self.content
        if is_other:
            self.update(told)
        return is_other

    def rows(self, width: int) -> list[Content]:
        """Return the rows that the text takes in so many columns."""
        told, parted_for, rows = self._parted
        if told is not self.content or parted_for != width:
            told = self.content
            text = told if isinstance(told, Content) else Content(str(told))
            rows = list(parted(text, width))
            self._parted = told, width, rows
        return rows

    def render(self) -> Content:
        """Return the rows for the columns there are."""
        return Content("\n").join(self.rows(self.content_size.width))

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Return how many rows that makes."""
        del container, viewport
        return len(self.rows(width))


def parted(text: Content, width: int) -> Iterable[Content]:
    """Yield the rows of a text that has lines of its own."""
    for line in text.split("\n", allow_blank=True) if text.plain else ():
        yield from (row.rstrip() for row in line.divide(row_starts(line.plain, width)))


class Scrolled(VerticalScroll, can_focus=False):
    """Where a text is scrolled; it tells the pane around it where it is."""

    def watch_scroll_y(self, old_value: float, new_value: float) -> None:
        """Keep the sign up to date."""
        super().watch_scroll_y(old_value, new_value)
        if isinstance(self.parent, Pane):
            self.parent.tell()


class Pane(Horizontal):
    """Shows a text, and beside its last row how to go on where it is longer than its room."""

    def __init__(self, ident: str, *texts: WrappedText) -> None:
        """Lay out a pane.

        Args:
            ident: the id of what is scrolled in it.
            texts: what is shown, one below the other.
        """
        super().__init__()
        self._scrolled = Scrolled(*texts, id=ident)
        self._texts = texts
        self._sign = Static(classes="more", markup=False)

    def compose(self) -> ComposeResult:
        """Lay out the text and the sign."""
        yield self._scrolled
        yield self._sign

    @property
    def scrolled(self) -> Scrolled:
        """Return what is scrolled."""
        return self._scrolled

    def needs(self, width: int) -> int:
        """Return the rows that the whole text takes in so many columns."""
        return sum(len(text.rows(width)) for text in self._texts)

    def give(self, rows: int, width: int) -> None:
        """Take so many rows and columns, none for no place; less than it needs shows the sign."""
        self.display = rows > 0
        self.styles.height = rows
        self.set_class(self.needs(width) > rows, "-more")
        self.tell()

    def tell(self) -> None:
        """Say whether there is more below, or else above."""
        is_end = self._scrolled.is_vertical_scroll_end
        sign = _BACK if is_end and self._scrolled.scroll_y else _MORE
        if sign != self._sign.content:
            self._sign.update(sign, layout=False)

    def to_top(self) -> None:
        """Show the beginning."""
        self._scrolled.scroll_home(animate=False)

    def pass_over(self, text: WrappedText, begin: Content) -> None:
        """Show what follows the beginning of a text as far as there is more, once it has rows."""

        def scroll() -> None:
            passed = len(list(parted(begin, text.content_size.width)))
            self._scrolled.scroll_to(y=passed, animate=False)

        self.call_after_refresh(scroll)
