"""What the home screen lists: where to start or go on, what is due, then all problems."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets.option_list import Option

from leverstep.course.cards import Card
from leverstep.course.faults import Fault
from leverstep.course.phrases import counted
from leverstep.course.plain_text import cut
from leverstep.course.shelf import Shelf
from leverstep.faces.openings import DEGREES, LED, Opening
from leverstep.progress.problem_list import ListedProblem, ProblemList, Suggested
from leverstep.progress.problem_told import about, facts
from leverstep.working.guidance import Guidance

if TYPE_CHECKING:
    from leverstep.bench.kept_workings import KeptWorkings, Unfinished

LONGEST_SEARCH = 40
"""Characters that are searched for."""

LIST_COLUMNS = 76
"""Columns of a line of the list, which are as many on a wide screen."""

REASON_COLUMNS, _REASON_KEPT = 37, 24
"""Columns for why a problem is listed, behind a short title, and behind any."""

_AROUND = 3
"""Columns of the sign before a title, and the spaces around it."""

_GO_ON, _AT = "go-on", "at"
"""What the ids of lines begin with: of a working to go on with, and of a problem listed again."""

_MOST_UNFINISHED = 4
_SIGNS = {"due": "*", "begun": "…", "done": "✓"}
_NARROW = "Type to search, or narrow: F3 joint, F4 level, F7 class, F8 units, F9 asks"
_NONE = "none for this problem"


class Choices:
    """The list as it is shown, and how far the student is led in what is opened next."""

    MORE = "more"
    """The id of the line that shows all workings that are kept."""

    AS_BEGUN = "as you began it"
    """What is said of the numbers of a working that is gone on with."""

    def __init__(self, shelf: Shelf) -> None:
        self.problems = ProblemList(shelf)
        self.guidance = Guidance.LINES
        self._shelf = shelf
        self._shows_more = False
        self._unfinished: tuple[Unfinished, ...] = ()

    def take(self, kept: KeptWorkings) -> bool:
        """Take what is kept; return whether it is other than before."""
        changed = kept != self.problems.kept
        self.problems.kept = kept
        return changed

    def suggest(self, suggested: tuple[Suggested, ...]) -> bool:
        """Take what to practise next; return whether it is other than before."""
        changed = suggested != self.problems.suggested
        self.problems.suggested = suggested
        return changed

    def show_all(self) -> None:
        """Show all problems again."""
        self.problems.show_all()
        self._shows_more = False

    def show_more(self) -> None:
        """Show all workings that are kept, earlier ones and those taken off the list too."""
        self._shows_more = True

    def type_ahead(self, typed: str) -> None:
        """Search for what was typed so far and this, or for a letter less where it is Backspace."""
        search = self.problems.search
        found = search[:-1] if typed == "\b" else f"{search}{typed}"
        self.problems.search = found.lstrip()[:LONGEST_SEARCH]

    @property
    def shown(self) -> str:
        """Return what the list is narrowed to, or how that is done."""
        problems = self.problems
        if problems.is_whole:
            return _NARROW
        parts = [f"Search: {problems.search}_"] if problems.search else []
        return "   ".join((*parts, *problems.narrowed_told(), "Esc: all again"))

    def guide(self) -> None:
        """Go to the next degree of guidance, after the last to the first."""
        degrees = list(Guidance)
        self.guidance = degrees[(degrees.index(self.guidance) + 1) % len(degrees)]

    @property
    def led(self) -> str:
        """Return how far the student is led in a working that is opened next."""
        return f"Guidance: {DEGREES[self.guidance]} ({LED[self.guidance]}) · F5"

    def options(self) -> list[Option]:
        """Return the lines of the list, headings among them; no two have one id."""
        listed: list[Option] = []
        ids: set[str] = set()
        for shown, ident in (*self._to_begin_with(), *self._problems()):
            again = f"{_AT}:{len(listed)}:{ident}" if ident in ids else ident
            ids.add(ident)
            listed.append(Option(shown, id=again) if ident else _heading(shown))
        return listed or [_heading("No problem matches; press Esc to show all")]

    def found_first(self, ids: Sequence[str]) -> str:
        """Return the line that a search lights, of the ids of all there are: the first.

        Where that is a problem it is the first by its title, if there is one.
        """
        begins_with_problems = self.problems.card(ids[0]) is not None
        return (self.problems.by_title if begins_with_problems else "") or ids[0]

    def _problems(self) -> Iterator[tuple[Content | str, str]]:
        """Yield the problems under their headings, a heading without an id."""
        for section in self.problems.sections():
            yield section.heading, ""
            yield from ((_problem(one), one.card.id) for one in section.problems)

    def _to_begin_with(self) -> Iterator[tuple[Content | str, str]]:
        """Yield where to start, go on, or practise next, under headings without an id."""
        problems, now = self.problems, datetime.now().astimezone()
        if (start := problems.start) is not None:
            yield "Start here", ""
            why = "the first of your course" if self._shelf.weeks else "an easy one to begin with"
            yield _with_reason(start, why), f"{_AT}:start:{start.id}"
        self._unfinished = problems.unfinished(self._shows_more)
        if self._unfinished:
            yield "Go on with (Del takes one off this list)", ""
        elif self._has_more:
            yield "Go on with", ""
        most = len(self._unfinished) if self._shows_more else _MOST_UNFINISHED
        for place, one in enumerate(self._unfinished[:most]):
            yield _unfinished(one, now), f"{_GO_ON}:{place}"
        if self._has_more:
            yield Content.styled("  More are kept: Enter shows them", "$quiet"), self.MORE
        if due := problems.due:
            yield "Due for review", ""
        if (following := problems.next) is not None:
            yield "Next", ""
            due = (following,)
        for suggested in due:
            if (card := problems.card(suggested.ident)) is not None:
                sign = _SIGNS["due"] if suggested.is_due else " "
                yield _with_reason(card, suggested.short, sign), f"{_AT}:next:{card.id}"

    @property
    def _has_more(self) -> bool:
        """Return whether workings are kept that are not shown."""
        all_kept = self.problems.unfinished(every_one=True)
        return not self._shows_more and len(all_kept) > len(self._unfinished[:_MOST_UNFINISHED])

    def unfinished(self, ident: str) -> Unfinished | None:
        """Return the working of a line, None where it is none to go on with."""
        kind, _, place = ident.partition(":")
        return self._unfinished[int(place)] if kind == _GO_ON else None

    def card(self, ident: str) -> Card | None:
        """Return the card of the problem that a line opens, None where there is none."""
        one = self.unfinished(ident)
        return self.problems.card(ident.rpartition(":")[2] if one is None else one.problem.id)

    def own_asked(self, ident: str) -> str:
        """Return how numbers of the own body are typed for a line; "" where it takes none."""
        card = None if self.unfinished(ident) else self.card(ident)
        return "" if card is None else card.measurable

    def own_refused(self, ident: str) -> str:
        """Return why a line takes no numbers of the own body."""
        return self.AS_BEGUN if self.unfinished(ident) else _NONE

    def limits(self, ident: str) -> str:
        """Return within which limits a line takes numbers of the own body."""
        card = self.card(ident)
        return "" if card is None else card.limits

    def told(self, ident: str) -> str:
        """Return in one line what a line opens."""
        one, card = self.unfinished(ident), self.card(ident)
        if one is not None:
            from leverstep.dialogue.kept_told import numbers_told

            return f"Begun: {numbers_told(one)}. Enter goes on with it."
        own = " Tab: numbers of your own body." if card is not None and card.measurable else ""
        return "" if card is None else f"{facts(self.problems.listed(card))}{own}"

    def about(self, ident: str) -> Content:
        """Return what there is to know of the problem of a line, for where there is room."""
        card = self.card(ident)
        if card is None:
            return Content("")
        told = "\n\n".join(about(card, self.problems))
        return Content.assemble((card.title, "$primary bold"), f"\n{told}")

    def opening(self, ident: str, seed: str, own: str) -> Opening:
        """Return what a chosen line opens; the file of its problem is read for that.

        Raises:
            FileError: where that file was broken since the list was made.
            OwnError: where what was measured can't be taken.
        """
        from leverstep.working.own import read_own

        if (one := self.unfinished(ident)) is not None:
            return Opening(one.problem, one.seed, one.path)
        problem = self._shelf.problems[ident.rpartition(":")[2]]
        measured = (own,) if own and problem.own else ()
        read_own(problem, measured)
        return Opening(problem, seed, own=measured, guidance=self.guidance)


def _heading(text: str | Content) -> Option:
    return Option(Content.styled(str(text), "$primary bold"), disabled=True)


def _problem(one: ListedProblem) -> Content:
    """Return a problem with its sign, how it stands, its level and its units."""
    card, stands = one.card, ", ".join(one.marks)
    sign = _SIGNS[one.marks[0]] if stands else " "
    units = f"{card.units}{', own' if one.is_own else ''}"
    title = _title(card.title, 36, len(f"{stands} {one.level}  {units}"))
    shown = f"{sign} {f'{title} {stands}':<48} {one.level}  "
    return Content.assemble(shown, Content.styled(units, "$quiet"))


def _with_reason(card: Card, why: str, sign: str = " ") -> Content:
    title = _title(card.title, 36, _REASON_KEPT)
    reason = cut(why, LIST_COLUMNS - len(f"{sign} {title} "))
    return Content.assemble(f"{sign} {title} ", Content.styled(reason, "$quiet"))


def _unfinished(one: Unfinished, now: datetime) -> Content:
    from leverstep.dialogue.kept_told import far_told, when_told

    far, when = far_told(one), f"{when_told(one.latest, now):<15}"
    told = "off the list" if one.noted.hidden else f"no. {one.seed}"
    title = _title(one.problem.title, 30, len(f"{far} {when} {told}"))
    shown = f"… {f'{title} {far}':<45} {when} "
    return Content.assemble(shown, Content.styled(told, "$quiet"))


def _title(title: str, least: int, beside: int) -> str:
    """Return a title for a line: whole where the columns told `beside` it leave the room for that.

    A short one has `least` columns, so that lines agree.
    """
    return f"{cut(title, max(least, LIST_COLUMNS - beside - _AROUND)):<{least}}"


def faults_line(faults: Sequence[Fault]) -> str:
    """Return one line about files that can't be used as they are; "" where there are none."""
    files = list(dict.fromkeys(fault.file for fault in faults))
    if not files:
        return ""
    named = ", ".join(files[:2]) + (" …" if len(files) > 2 else "")
    have = counted(len(files), "file has", "files have")
    return f"{have} faults ({named}): `leverstep problems` lists them."
