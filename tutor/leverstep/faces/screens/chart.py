"""What the screen of exploring shows of an exploration: results, givens, and the plot."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual import events
from textual.content import Content
from textual.geometry import Offset
from textual.widgets import Static

from leverstep.faces.screens.side_sheet import has_dots, painted

if TYPE_CHECKING:
    from leverstep.explore.exploration import Exploration
    from leverstep.faces.screens.side_sheet import Drawn

_HERE, _MOVED = "›", "*"
_DIM = "$quiet"
_ROOM_FOR_NAMES = 40
"""The columns from where on the beginning of a name is worth showing."""


class ResultList(Static):
    """The results: sign, value now, and by how much that is more or less than the own."""

    def __init__(self) -> None:
        super().__init__(markup=False, id="results")
        self._laid_out = False

    def list(self, exploration: Exploration, asks: bool) -> None:
        """Show the results as they stand; while something is asked, not what became of them."""
        from leverstep.explore.results import direction_of
        from leverstep.explore.sentences import change

        values, own = exploration.values, exploration.own_values
        lines = []
        for result in exploration.results:
            now = "none" if values is None else result.written(values[result.key])
            told = ""
            if values is not None and own is not None:
                told = "?" if asks else change(own[result.key], values[result.key])
            lines.append(Content.assemble((f"{result.sign:<6}", "bold"), f"{now:>10}  {told}"))
            if result.role == "reaction":  # a line of its own in any case, so that none moves
                way = "" if values is None else direction_of(exploration.now, result, values)
                lines.append(Content.styled(f"{'':6}points {way}" if way else "", _DIM))
        lines.append(Content(""))
        self.update(Content("\n").join(lines), layout=not self._laid_out)
        self._laid_out = True


class GivenList(Static, can_focus=True):
    """The givens, each with its value; the chosen one is kept in sight, and the cursor on it."""

    def __init__(self) -> None:
        super().__init__(markup=False, id="givens")
        self._rows: list[tuple[Content, Content]] = []
        self._chosen = self._lit = 0

    def list(self, exploration: Exploration, chosen: int) -> None:
        """Show the givens of an exploration as they stand."""
        self._chosen = chosen
        wide = max(len(one.written(exploration.now)) for one in exploration.movables)
        self._rows = []
        for number, one in enumerate(exploration.movables):
            here = number == chosen
            axis = "x" if one is exploration.over else " "
            moved = _MOVED if exploration.is_moved(one) else " "
            value = f"{one.written(exploration.now):>{wide}}"
            ink = "$accent bold" if here else ""
            row = Content.styled(
                f"{_HERE if here else ' '}{axis} {one.sign:<5}{value}{moved} ", ink
            )
            self._rows.append((row, Content.styled(one.name, ink or _DIM)))
        self._paint()

    def on_resize(self, event: events.Resize) -> None:
        """Keep the chosen row in sight."""
        event.stop()
        self._paint()

    def _paint(self) -> None:
        width, room = self.size.width, max(1, self.size.height - 1)
        first = max(0, min(self._chosen - room // 2, len(self._rows) - room))
        shown = [Content.styled("x on the axis   * moved", "$primary italic")]
        for row, name in self._rows[first : first + room]:
            whole = row + name
            # A name cut short says little; that of the chosen one is told below in any case.
            shown.append(whole if len(whole) <= width or width >= _ROOM_FOR_NAMES else row)
        cut = [row.truncate(max(1, width), ellipsis=True) for row in shown]
        self._lit = 1 + self._chosen - first
        self.update(Content("\n").join(cut), layout=False)

    @property
    def cursor_screen_offset(self) -> Offset:
        """Return where the chosen row begins, for the terminal's cursor."""
        return self.content_region.offset + Offset(0, self._lit)


class Chart(Static):
    """The plot, drawn anew for the room it has, with what must be said of it beneath."""

    def __init__(self) -> None:
        super().__init__(markup=False, id="chart")
        self._exploration: Exploration | None = None

    def draw(self, exploration: Exploration) -> None:
        """Draw an exploration as it stands."""
        self._exploration = exploration
        self._paint()

    def on_resize(self, event: events.Resize) -> None:
        """Draw it again for its new size."""
        event.stop()
        self._paint()

    def _paint(self) -> None:
        from leverstep.explore.plot import SMALLEST

        (width, height), exploration = self.size, self._exploration
        if exploration is None or width < SMALLEST[0] or height < SMALLEST[1]:
            return

        def draw(rows: int) -> Drawn:
            plot = exploration.plot(width, rows, has_dots())
            return plot.rows, exploration.notes(plot)

        self.update(painted(draw, width, height, SMALLEST[1]), layout=False)
