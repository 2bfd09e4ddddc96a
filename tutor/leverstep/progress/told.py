"""One's own progress in words, as blocks for every writer alike."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from fractions import Fraction

from leverstep.course.decimals import whole_percent
from leverstep.course.listing import joint_name
from leverstep.course.phrases import counted
from leverstep.documents.blocks import Heading, Listing, Table, Told, Words
from leverstep.documents.spoken import spoken
from leverstep.documents.text import WIDTH, text, wrapped
from leverstep.progress.progress import Progress
from leverstep.progress.review import (
    CLEAN_LINES,
    CLEAN_WORKINGS,
    AmountWorked,
    Sign,
    SlipFigures,
)
from leverstep.progress.suggestions import Suggestion, due_slips
from leverstep.working.wording import CAUTION

SOURCE = (
    "Drawn from the records of this account alone, whoever worked them: practice, and drills once "
    "they are handed in. A slip counts only where it was certain."
)
"""Where the figures come from, and where not."""

MOST_SIGNS = 12
"""Of each slip so many lines are shown, the last ones."""

_SIGNS = {Sign.MADE: "✗", Sign.RIGHT: "✓", Sign.OTHER: "·"}
_LEGEND = (
    "Each sign is a line where the slip could be made, the latest on the right: ✗ it was made, ✓ "
    "right first time without a hint, · neither."
)
_GONE = (
    f"A slip counts as gone when, since it was last made, {CLEAN_LINES} lines or more where it "
    f"could be made were right first time without a hint, in {CLEAN_WORKINGS} later "
    "workings or more. It still comes back, with other numbers: a day after it was made, then "
    "after 2, 4, 8, 16 and 32 days without it."
)
_FEW = "too few to tell"


def progress_report(progress: Progress) -> str:
    """Return the whole as plain text, to be read from the first line to the last."""
    return text(_whole(progress))


def spoken_report(progress: Progress) -> str:
    """Return the whole as sentences for a screen reader: no picture, since they tell the same."""
    return spoken(_whole(progress, pictures=False))


def account(progress: Progress) -> str:
    """Return what lies behind the suggestions, as plain text: slips, and what was practised."""
    return text((*_slips(progress), *_practised(progress)))


def source(progress: Progress) -> str:
    """Return where the figures come from, and how many records could not be used."""
    left_out = progress.unusable
    if not left_out:
        return SOURCE
    records = counted(left_out, "record")
    return f"{SOURCE} {records} could not be used: damaged, or of a problem or drill not here now."


def heading(progress: Progress) -> str:
    """Return what the suggestions are."""
    suggested = sum(len(one.slips) for one in progress.next)
    if not suggested:
        return "What to practise next: no slip is due"
    waiting = len(due_slips(progress.slips, progress.today)) - suggested
    more = counted(waiting, "more slip is", "more slips are")
    return f"What to practise next ({more} due after these)" if waiting else "What to practise next"


def problem(suggestion: Suggestion) -> str:
    """Return which problem is suggested: `A pail in the hand (Elbow, level 1)`."""
    card = suggestion.card
    return f"{card.title} ({joint_name(card.joint)}, level {card.difficulty})"


def why(suggestion: Suggestion, progress: Progress) -> str:
    """Return what a suggestion is for: the slips, each with how long it is due."""
    if suggestion.slips:
        slips = (f"{slip.name} ({_due(slip, progress.today)})" for slip in suggestion.slips)
        return f"for {', '.join(slips)}"
    if suggestion.card.joint not in dict(progress.joints):
        return "a joint that you have not practised yet"
    return "a problem not worked for a long time, or never"


def suggested_lines(suggestion: Suggestion, progress: Progress) -> tuple[str, ...]:
    """Return a suggestion for a list: the problem, and what it is for set in beneath."""
    for_what = wrapped(why(suggestion, progress), WIDTH - 2)
    return (problem(suggestion), *(f"  {line}" for line in for_what))


def _due(slip: SlipFigures, today: date) -> str:
    days = (today - slip.due).days
    return {0: "due today", 1: "due since yesterday"}.get(days, f"due for {days} days")


def picture(slip: SlipFigures) -> str:
    """Return the last lines where a slip could be made, a sign for each."""
    return "".join(_SIGNS[one.sign] for one in slip.occasions[-MOST_SIGNS:])


def _whole(progress: Progress, pictures: bool = True) -> Iterator[Told]:
    yield Heading(1, "Your progress")
    yield Words(CAUTION)
    yield Words(source(progress))
    yield Heading(2, heading(progress))
    yield Listing(tuple(_suggested(one, progress) for one in progress.next))
    yield from _slips(progress, pictures)
    yield from _practised(progress)


def _suggested(one: Suggestion, progress: Progress) -> str:
    told = why(one, progress)
    return f"leverstep practise {one.card.id}: {problem(one)}, {told}."


def _slips(progress: Progress, pictures: bool = True) -> Iterator[Told]:
    yield Heading(2, "Slips")
    if not progress.slips:
        yield Words("No slip was certain.")
        return
    if pictures:
        yield Words(_LEGEND)
        rows = tuple((s.name, picture(s), str(s.state)) for s in progress.slips)
        yield Table(("Slip", "Last lines", "State"), rows)
    yield Words(_GONE)
    yield Listing(tuple(_slip(slip, progress.today) for slip in progress.slips))


def _slip(slip: SlipFigures, today: date) -> str:
    """Return all figures of a slip in sentences."""
    first, last = slip.made[0].time.date(), slip.made[-1].time.date()
    when = f"first {_day(first, today)}, last {_day(last, today)}"
    if first == last:
        when = _day(last, today)
    told = f"{slip.name}: made on {counted(len(slip.made), 'line')}, {when}."
    if slip.since:
        lines = counted(len(slip.since), "line")
        told += f" Since then right first time on {len(slip.right_since)} of {lines}, in "
        told += f"{_workings(slip.workings_since)}: {slip.state}."
    else:
        told += " Since then no line where it could be made."
    due = "It is due." if slip.due <= today else f"It comes back {_day(slip.due, today)}."
    return f"{told} {due} {slip.reason}"


def _practised(progress: Progress) -> Iterator[Told]:
    yield Heading(2, "What you have practised")
    if not progress.amount.begun:
        yield Words("Nothing yet. Every line that you write in practice will count here.")
        return
    rows = [_row(joint_name(joint), amount) for joint, amount in progress.joints]
    columns = ("Joint", "Begun", "Finished", "Lines", "Right first time", "Share")
    rows.append(_row("All", progress.amount))
    yield Table(columns, tuple(rows), frozenset(range(1, len(columns))))


def _row(name: str, amount: AmountWorked) -> tuple[str, ...]:
    share = _FEW
    if amount.enough:
        share = whole_percent(Fraction(amount.right, amount.lines))
    counts = (amount.begun, amount.finished, amount.lines, amount.right)
    return (name, *map(str, counts), share)


def _day(day: date, today: date) -> str:
    """Return a day as one says it: `today`, `yesterday`, `on 5 November 2026`."""
    near = {-1: "yesterday", 0: "today", 1: "tomorrow"}
    return near.get((day - today) // timedelta(days=1), f"on {day.day} {day:%B %Y}")


def _workings(count: int) -> str:
    return counted(count, "later working") if count else "no later working"
