"""A class at work in plain lines: what is new is said unasked, all else when it is asked."""

from __future__ import annotations

from datetime import datetime

from leverstep.course.phrases import sentence
from leverstep.course.plain_text import shown
from leverstep.course.symbols import read_out
from leverstep.faces.lines.speaking_beside import Interrupt, SpeakingBeside
from leverstep.faces.lines.verbs import Conversation, Place, Verb
from leverstep.faces.terminal import Listen, Say
from leverstep.watching.class_at_work import ClassAtWork
from leverstep.watching.class_watch import POLL, ClassWatch
from leverstep.watching.watch_told import (
    called,
    counts_told,
    groups,
    lines_told,
    news,
    next_told,
    progress_told,
    row_told,
    rows_called,
    slips_told,
    troubles_told,
)
from leverstep.working.cautions import CAUTION_SAID

READING = "One moment: the records are being read."

NAMELESS = "No names are shown: the watch was started without them. Type lines or slips."

_NAMING = ("next", "students", "student")
"""What is done by naming somebody."""


class WatchLines(Conversation):
    """Says what is new in a class, and how it stands when it is asked."""

    place = Place.WATCH
    prompt = "Watch: "

    def __init__(
        self,
        watch: ClassWatch,
        say: Say,
        listen: Listen,
        with_names: bool = True,
        interrupt: Interrupt | None = None,
    ) -> None:
        """Begin. What is said is for the ear: symbols are spelt.

        Args:
            watch: what looks at the folder.
            say: what says a line.
            listen: what asks for one, with a prompt.
            with_names: whether students may be named.
            interrupt: what writes a text at once while a line is typed; None for scripts, which are
                told what is new before each prompt.
        """
        self._aside = _LooksBeside(self, interrupt)
        super().__init__(
            lambda text: say(read_out(text)), lambda prompt: self._aside.listen(listen, prompt)
        )
        self.watch = watch
        self._with_names = with_names
        self._is_script = interrupt is None
        self._now: ClassAtWork

    @property
    def offered(self) -> tuple[Verb, ...]:
        """Return what help names: without names nothing that would name somebody."""
        return tuple(one for one in self.verbs if self._with_names or one.does not in _NAMING)

    def run(self) -> None:
        """Watch until the input ends, or `stop`."""
        self.say(f"{self.watch.drill.title}. {READING}")
        self._now = self.look()
        self.do_counts("")
        for line in troubles_told(self._now, self._with_names):
            self.say(line)
        self.do_next("")
        self.say(CAUTION_SAID)
        with self._aside:
            self.converse()

    def look(self) -> ClassAtWork:
        """Look at the folder; nothing is said of it before it is taken as `new`."""
        return self.watch.look(datetime.now().astimezone())

    def new(self, now: ClassAtWork) -> list[str]:
        """Take a look as the last one, and return in sentences what is new since the one before."""
        before, self._now = self._now, now
        return news(before, now, self._with_names)

    def lead_in(self) -> None:
        """Say to a script what is new."""
        for line in self.new(self.look()) if self._is_script else ():
            self.say(line)

    def do_next(self, _: str) -> None:
        """Say who to go to next; without names which slips are made."""
        if not self._with_names:
            self.do_slips("")
            return
        self.say(next_told(self._now))

    def do_students(self, _: str) -> None:
        """Say how every student stands, the next to go to first."""
        if not self._with_names:
            self.say(NAMELESS)
            return
        for heading, rows, names_do in groups(self._now):
            self.say(f"{heading}.")
            if names_do:
                self.say(f"{', '.join(map(called, rows))}.")
            else:
                for row in rows:
                    self.say(row_told(row, self._now.tasks))

    def do_student(self, typed: str) -> None:
        """Say how the students stand who are called so."""
        rows = rows_called(self._now, typed) if self._with_names else ()
        for row in rows:
            self.say(f"{row_told(row, self._now.tasks)} {progress_told(row)}".rstrip())
        if not rows:
            unknown = (
                f"found {shown(typed)}; expected a student of this class, or a word: type help"
            )
            self.say(sentence(unknown) if self._with_names else NAMELESS)

    def do_slips(self, _: str) -> None:
        """Say which slips are made now."""
        for line in slips_told(self._now):
            self.say(f"{line}.")

    def do_lines(self, _: str) -> None:
        """Say how many students are at which line."""
        for line in lines_told(self._now):
            self.say(f"{line}.")

    def do_counts(self, _: str) -> None:
        """Say how many are at work, and how many elsewhere."""
        self.say(f"{counts_told(self._now)}.")

    def do_troubles(self, _: str) -> None:
        """Say which records could not be read."""
        for line in troubles_told(self._now, self._with_names) or ["Every record could be read."]:
            self.say(line)


class _LooksBeside(SpeakingBeside):
    """Looks at the folder again and again, and says what is new; for scripts it does not."""

    def __init__(self, lines: WatchLines, interrupt: Interrupt | None) -> None:
        super().__init__(interrupt)
        self._lines = lines

    def run(self) -> None:
        """Look until the conversation ends."""
        while self._interrupt is not None and not self._ended.wait(POLL):
            now = self._lines.look()  # may be slow, and so outside the lock
            with self._speaking:
                if not self._ended.is_set():
                    self._speak(self._interrupt, self._lines.new(now))

    def _speak(self, interrupt: Interrupt, told: list[str]) -> None:
        if told:
            interrupt("\n".join(["", *map(read_out, told), self._prompt]))
