"""The list on the home screen: the problems, and what is kept of earlier workings above them."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from textual import on, work
from textual.containers import Horizontal, VerticalScroll
from textual.message import Message
from textual.widgets import Static
from textual.worker import get_current_worker

from leverstep.faces.screens.caution import Cautioned
from leverstep.faces.screens.searched_list import SearchedList

if TYPE_CHECKING:
    from leverstep.bench.kept_workings import KeptWorkings
    from leverstep.faces.material import Material
    from leverstep.faces.screens.choices_listed import Choices
    from leverstep.progress.problem_list import Suggested


class _ReadAgain(Exception):
    """The screen was left, or is come back to: what is kept is read once more then."""


class ProblemsPanel(Cautioned):
    """Lists what can be opened, and reads beside the screen what is kept and is due."""

    @dataclass
    class KeptFound(Message):
        """What is kept of earlier workings has been read from disk."""

        kept: KeptWorkings

    @dataclass
    class SuggestionsFound(Message):
        """What to practise next has been worked out from the records."""

        suggested: tuple[Suggested, ...]

    class NothingLit(Message):
        """The list has no line that could be opened."""

    _choices: Choices

    def __init__(self, material: Material) -> None:
        super().__init__("problems")
        self._material = material

    async def lay_out(self, choices: Choices) -> None:
        """Put up the list that is to be filled, and beside it room to tell of a problem."""
        self._choices = choices
        listed = SearchedList(id="choices", markup=False, compact=True)
        about = VerticalScroll(Static(id="about", markup=False), id="beside", can_focus=False)
        await self.mount(Horizontal(listed, about))

    @property
    def _listed(self) -> SearchedList:
        return self.query_one("#choices", SearchedList)

    @property
    def lit(self) -> str | None:
        """Return the id of the line that is lit, None where there is none."""
        lit = self._listed.highlighted_option
        return None if lit is None else lit.id

    def focus_list(self) -> None:
        """Have the list take the keys."""
        self._listed.focus()

    def fill(self, searched: bool = False) -> None:
        """Fill the list, and keep the line that was lit; a search lights what it found."""
        listed, lit = self._listed, self.lit or ""
        listed.clear_options()
        listed.add_options(self._choices.options())
        ids = [option.id for option in listed.options if option.id]
        if ids:
            kept = lit if lit in ids else ids[0]
            lit = self._choices.found_first(ids) if searched else kept
            listed.highlighted = listed.get_option_index(lit)
        else:
            self.post_message(self.NothingLit())

    def tell(self, ident: str) -> None:
        """Tell of the problem of a line, where there is room beside the list."""
        self.query_one("#about", Static).update(self._choices.about(ident))
        self.query_one("#beside", VerticalScroll).scroll_home(animate=False)

    @work(thread=True, exclusive=True, group="kept")
    def read_kept(self) -> None:
        """Read what is kept of earlier workings, then what to practise next by them.

        In the end what a problem is opened with is loaded, while the student reads the list.
        """
        from leverstep.bench.kept_workings import kept_workings

        material, worker = self._material, get_current_worker()
        kept = kept_workings(material.shelf)
        self.post_message(self.KeptFound(kept))

        def told(read: int, of_all: int) -> None:
            del read, of_all
            if worker.is_cancelled or not self.screen.is_current:
                raise _ReadAgain

        with suppress(_ReadAgain):
            if not kept.is_empty:
                from leverstep.progress.suggested import suggested_now

                found = suggested_now(material.shelf, material.catalogue, told)
                self.post_message(self.SuggestionsFound(found))
        _load_ahead(material)

    @on(KeptFound)
    def list_kept(self, event: KeptFound) -> None:
        """Put the workings to go on with before the problems, or where to start."""
        event.stop()
        if self._choices.take(event.kept):
            self._fill_above()

    @on(SuggestionsFound)
    def list_suggested(self, event: SuggestionsFound) -> None:
        """Mark what is due, and list it before all problems."""
        event.stop()
        if self._choices.suggest(event.suggested):
            self._fill_above()

    def _fill_above(self) -> None:
        """Fill the list where something came above; who has not moved yet stays at its top.

        What was read may come when the program is being left, and the list is gone.
        """
        if not self.query("#choices"):
            return
        untouched = self._listed.highlighted is not None and self._listed.highlighted <= 1
        self.fill()
        if untouched:
            self._listed.action_first()

    @work(thread=True, group="hiding")
    def take_off(self, record: Path) -> None:
        """Note beside the record that it is off the list, then list anew what is left."""
        from leverstep.bench.record_note import RecordNote

        RecordNote(record).hide(True)
        self.app.call_from_thread(self.read_kept)
        told = "Off the list, and still kept: the line More are kept shows it again."
        if not RecordNote(record).noted.hidden:
            told = "It stays on the list: the disk can't be written to."
        self.app.notify(told, title="Workings to go on with", timeout=5, markup=False)


def _load_ahead(material: Material) -> None:
    """Load what any problem is opened with: the screen of a working, the algebra, the slips."""
    import leverstep.faces.screens.work
    import leverstep.statics.functions  # noqa: F401

    _ = material.catalogue
