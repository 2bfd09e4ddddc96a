"""How the lines of a page are parted into rows: as on paper, no number is cut."""

from __future__ import annotations

from textual.document._document import Location
from textual.document._wrapped_document import WrappedDocument

from leverstep.faces.screens.written import row_starts


class PageRows(WrappedDocument):
    """The rows of a page. Textual's own would cut a line without spaces within a number."""

    def wrap(self, width: int, tab_width: int | None = None) -> None:
        """Part all lines anew, with 0 columns none of them."""
        super().wrap(0, tab_width)
        self._width = width
        if not width:
            return
        self._wrap_offsets = [row_starts(line, width) for line in self.document.lines]
        self._offset_to_line_info = [
            (number, row)
            for number, starts in enumerate(self._wrap_offsets)
            for row in range(len(starts) + 1)
        ]
        self._line_index_to_offsets = [[] for _ in self._wrap_offsets]
        for place, (number, _) in enumerate(self._offset_to_line_info):
            self._line_index_to_offsets[number].append(place)

    def wrap_range(self, start: Location, old_end: Location, new_end: Location) -> None:
        """Part the lines anew after a change: a page is short."""
        del start, old_end, new_end
        self.wrap(self._width)
