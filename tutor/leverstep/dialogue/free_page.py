"""A page that a student writes freely: which of its lines are to be entered, and how each stands.

A face hands over the lines as they are, and where the cursor is. A line that the cursor has left
changed is to be entered; what comes of it stays with the line wherever it is moved to.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from leverstep.dialogue.line_marks import line_mark
from leverstep.dialogue.page_lines import PageLine, found_again
from leverstep.dialogue.replies import DialogueAnswer, Mark, Reply, Trouble, Unkept
from leverstep.dialogue.working_dialogue import WorkingDialogue
from leverstep.entry.tokens import LONGEST_ENTRY
from leverstep.working.page import line_name, named_line, outcomes
from leverstep.working.standing_lines import Line
from leverstep.working.verdict import Outcome

MOST_LINES = 200
"""So many lines a page may have."""

REPLACED = "A line entered later stands in its place."
_TOO_LONG = f"Nothing is taken: a line may have at most {LONGEST_ENTRY} characters."
_TOO_MANY = f"Nothing is taken: a page may have at most {MOST_LINES} lines."


def refusal(lines: Iterable[str], count: int) -> str:
    """Return why a change of a page is not taken, "" where it is.

    Args:
        lines: those that it writes or changes.
        count: how many lines the page has with it.
    """
    if count > MOST_LINES:
        return _TOO_MANY
    return _TOO_LONG if any(len(line) > LONGEST_ENTRY for line in lines) else ""


class FreePage:
    """The lines of a working that is written freely, as they stand on the page.

    It begins with the entries that stand in the working, in the order they were first written in,
    and with the lines that were no entries the last time, the last of them at hand.
    """

    def __init__(self, dialogue: WorkingDialogue, half_typed: Iterable[str] = ()) -> None:
        self._dialogue = dialogue
        lines = [PageLine(text) for text in half_typed] or [PageLine("")]
        self._lines = [*self._standing_lines(), *lines]
        is_done = lines[-1].is_blank or lines[-1].text in dialogue.earlier_entries  # but not read
        self._half_typed = None if is_done else lines[-1]
        self._here: PageLine | None = self._lines[-1]
        self._gone: dict[str, PageLine] = {}
        self._in_hand: PageLine | None = None
        self._sent = ""
        self._stood: Mapping[str, str] = {}
        self._waits = False
        self._before = dialogue.latest

    @property
    def texts(self) -> list[str]:
        """Return the lines as they are written."""
        return [line.text for line in self._lines]

    @property
    def half_typed(self) -> list[str]:
        """Return the lines that are no entries, that at the cursor the last of them: not entered
        yet, or not read.
        """
        new = [line for line in self._lines if line.is_new or line.is_unread]
        return [line.text for line in sorted(new, key=lambda line: line is self._here)]

    def opened(self) -> list[str]:
        """Return the lines as they are written; the last is for what is written next.

        So it is empty, or half typed.
        """
        if not self._lines[-1].is_blank and self._lines[-1] is not self._half_typed:
            self._lines.append(PageLine(""))
        return self.texts

    def write(self, texts: Sequence[str], row: int | None) -> bool:
        """Take the page as it is written now; return whether the cursor is on another line.

        Args:
            texts: all its lines.
            row: where the cursor is, from 0; None where it is on none of them.
        """
        before = self._lines
        self._lines = list(found_again(before, texts, self._put_back))
        kept = set(self._lines)
        gone = (line for line in before if line not in kept and line.is_settled)
        self._gone.update((line.text, line) for line in gone)
        here = None if row is None else self._lines[row]
        moved, self._here = here is not self._here, here
        if moved:
            self._before = self._dialogue.latest
        return moved

    def next_due(self) -> str | None:
        """Return the text of the first line that is to be entered now, None for none.

        What comes of it is handed to `take`. Nothing is due while a line waits for the disk.
        """
        due = (line for line in self._lines if line.is_new and line is not self._here)
        line = None if self.waits else next(due, None)
        if line is None:
            return None
        self._in_hand, self._sent, self._waits = line, line.text, False
        self._stood = self._entries()
        return line.text

    def take(self, reply: Reply) -> None:
        """Take what came of a line that was entered, or of anything else that was done."""
        line = self._in_hand
        if line is None:
            return
        self._waits = isinstance(reply, Unkept) and reply.trouble is not Trouble.NEVER
        if self._waits:
            return
        self._in_hand = None
        if isinstance(reply, Unkept) or reply.verdict is not None or reply.is_late:
            line.entered, line.reply = self._sent, reply
            line.stands = self._made_by(line, reply)

    @property
    def enters(self) -> bool:
        """Return whether a line is being entered, of which nothing came yet."""
        return self._in_hand is not None and not self._waits

    @property
    def waits(self) -> bool:
        """Return whether a line waits for the disk, and stands on the page as it was left."""
        return self._waits and bool(self.waiting)

    @property
    def waiting(self) -> str:
        """Return the text that waits for the disk, "" where it is not on the page any more."""
        line = self._in_hand
        return line.text if line in self._lines and line.text == self._sent else ""

    @property
    def marks(self) -> list[Mark]:
        """Return the mark of each line; one that was not judged has none."""
        return [self._mark(line) for line in self._lines]

    @property
    def told(self) -> DialogueAnswer | None:
        """Return what is told now: what came of the last thing done, or of the line at the cursor.

        The former is told until the cursor is moved, and where there is nothing of the latter.
        """
        latest, here = self._dialogue.latest, self._here
        if here is None or latest is not self._before:
            return latest
        return self._told_of(here) or latest

    @property
    def key(self) -> str:
        """Return the key that the line at the cursor stands for, "" for none."""
        return "" if self._here is None else self._key_of(self._here)

    @property
    def key_to_mend(self) -> str:
        """Return the key of the line at the cursor unless it is known to be right, or none."""
        outcome = outcomes(self._dialogue.working).get(self.key)
        return "" if outcome in (Outcome.RIGHT, Outcome.FOLLOWED) else self.key

    @property
    def off_page(self) -> str:
        """Return which entries stand though no line of the page has them any more, "" for none."""
        there = [line for line in self._lines if line is self._here or not line.is_blank]
        shown = {key for line in there for key in self._standing_keys(line)}
        step = self._dialogue.working.step
        names = [line_name(step(key)) for key in self._entries() if key not in shown]
        return f"No longer on the page, but still kept: {', '.join(names)}." if names else ""

    def _standing_lines(self) -> list[PageLine]:
        """Return a line for each entry that stands; several that are one text are one line."""
        working, lines = self._dialogue.working, dict[str, PageLine]()
        for key, entry in working.lines.items():
            named = named_line(working.step(key), entry.text)
            text = named if entry.claimed is None else entry.text
            lines.setdefault(text, PageLine(text, text)).stands[key] = entry.text
        return list(lines.values())

    def _put_back(self, text: str) -> PageLine | None:
        """Return the line with a text that was taken away, unless another replaced it since."""
        line = self._gone.get(text)
        if line is None or (line.stands and not self._standing_keys(line)):
            return None
        return self._gone.pop(text)

    def _made_by(self, line: PageLine, reply: Reply) -> dict[str, str]:
        """Return the entries that a line made: those that changed while it was entered.

        The same again makes none, unless no line of the page has it.
        """
        now = self._entries()
        made = {key: text for key, text in now.items() if self._stood.get(key) != text}
        verdict = None if isinstance(reply, Unkept) else reply.verdict
        if made or verdict is None or verdict.outcome is not Outcome.SAME:
            return made
        others = (one for one in self._lines if one is not line and not one.is_blank)
        if any(verdict.step in self._standing_keys(other) for other in others):
            return {}
        return {verdict.step: now[verdict.step]}

    def _entries(self) -> dict[str, str]:
        """Return the text of each entry that stands, by key."""
        return {key: entry.text for key, entry in dict(self._dialogue.working.lines).items()}

    def _standing_keys(self, line: PageLine) -> list[str]:
        """Return the keys of a line's entries that no other has replaced."""
        now = self._dialogue.working.lines
        return [key for key, text in line.stands.items() if _is_text_of(now.get(key), text)]

    def _key_of(self, line: PageLine) -> str:
        """Return the key that a line stands for first, "" for none."""
        return next(iter(self._standing_keys(line)), "")

    def _mark(self, line: PageLine) -> Mark:
        if self._waits and line is self._in_hand and self.waiting:
            return Mark.UNKEPT
        if not line.is_settled:
            return Mark.OPEN
        if line.stands:
            key = self._key_of(line)
            replaced = Mark.RIGHT if self._is_right_too(line) else Mark.OPEN
            return line_mark(self._dialogue.working, key) if key else replaced
        return _mark_of_reply(line.reply)

    def _is_right_too(self, line: PageLine) -> bool:
        """Return whether a line that was replaced was right, and what stands in its place is."""
        reply, working = line.reply, self._dialogue.working
        was_right = isinstance(reply, DialogueAnswer) and reply.mark is Mark.RIGHT
        return was_right and all(working.stands(key) for key in line.stands)

    def _told_of(self, line: PageLine) -> DialogueAnswer | None:
        """Return what is told of a line that was entered, None where there is nothing."""
        if not line.is_settled:
            return None
        if key := self._key_of(line):
            return self._told_of_entry(key, line)
        if line.stands:
            return DialogueAnswer(
                told=f"Right. {REPLACED}" if self._is_right_too(line) else REPLACED
            )
        if isinstance(line.reply, Unkept):
            return DialogueAnswer(told=f"{line.reply.heading}: {line.reply.told}")
        return line.reply

    def _told_of_entry(self, key: str, line: PageLine) -> DialogueAnswer:
        """Return what is told of a line whose entry stands, by how it stands now."""
        dialogue, working = self._dialogue, self._dialogue.working
        verdict = working.lines[key].verdict
        told = dialogue.wrong_told(key) or self._told_first(key, line) or dialogue.opened(key)
        mark, name = line_mark(working, key), line_name(working.step(key))
        return DialogueAnswer(key, name, told, verdict, mark, line.text, is_free=True)

    def _told_first(self, key: str, line: PageLine) -> str:
        """Return what was told of an entry when it was made, as long as it holds; else "".

        Where verdicts are hidden it holds for good: another word would tell.
        """
        answer, working = line.reply, self._dialogue.working
        if not isinstance(answer, DialogueAnswer) or answer.key != key or answer.verdict is None:
            return ""
        first, now = answer.verdict, working.lines[key].verdict
        holds = (first.outcome, first.reason) == (now.outcome, now.reason)
        is_hidden = first.counts and not working.rules.tells
        return answer.told if holds or is_hidden else ""


def _is_text_of(line: Line | None, text: str) -> bool:
    return line is not None and line.text == text


def _mark_of_reply(reply: Reply | None) -> Mark:
    """Return the mark of a line that made no entry; a remark has none."""
    if isinstance(reply, Unkept) or reply is None or reply.verdict is None:
        return Mark.UNKEPT
    return Mark.OPEN if reply.verdict.is_remark else reply.mark
