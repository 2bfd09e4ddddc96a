"""The door of a drill line by line: whose sitting it is, its rules, and whether it is to begin."""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from leverstep.bench.record import RecordError, folder_named
from leverstep.course.phrases import sentence
from leverstep.course.plain_text import plain
from leverstep.dialogue.admission import Admission, admission, not_kept, reread
from leverstep.dialogue.notice import rules_in_words
from leverstep.drill.begun import remember
from leverstep.drill.drill import Drill
from leverstep.drill.sitting import Closed, NotListed, Sitting
from leverstep.drill.start_word import NOT_THE_WORD, key_of
from leverstep.faces.lines.drill_clock import Interrupt
from leverstep.faces.lines.drill_line import HAND_IN, LEAVE, DrillLines, read_account
from leverstep.faces.lines.verbs import Listening, Place, Verb
from leverstep.faces.terminal import STOP, Listen, Say
from leverstep.working.wording import CAUTION_SAID

LEFT = "You have left; nothing was begun or changed."


class DoorLines(Listening):
    """Asks a student who is known what is to be done: begin or go on, read a result, or leave."""

    place = Place.DOOR

    def __init__(
        self, drill: Drill, admitted: Admission, folder: Path | None, say: Say, listen: Listen
    ) -> None:
        self.say, self.listen = say, listen
        self._drill = drill
        self._admitted = admitted
        self._folder = folder
        self._begins: bool | None = None

    @property
    def offered(self) -> tuple[Verb, ...]:
        """Return what the prompt names: no result where there is none, no way out of nothing."""
        hidden = "" if self._admitted.result else "result", "" if self._admitted.turn else "stop"
        return tuple(verb for verb in self.verbs if verb.short and verb.does not in hidden)

    def begins(self) -> bool:
        """Tell the rules, and ask; return whether a sitting is to begin or go on."""
        self.do_rules("")
        does = (f"{one.name} {one.told or self._admitted.does}" for one in self.offered)
        prompt = f"{', '.join(does)}: "
        while self._begins is None:
            if not self.follow(self.listen(prompt).strip()):
                self._misunderstood()
        return self._begins

    def do_rules(self, _: str) -> None:
        """Tell the rules, and whose sitting it is."""
        for rule in rules_in_words(self._drill, self._folder, HAND_IN, LEAVE):
            self.say(plain(rule))
        for told in (CAUTION_SAID, self._admitted.whose, self._admitted.told):
            if told:
                self.say(told)

    def do_begin(self, _: str) -> None:
        """Begin or go on, where there is a sitting to."""
        self._begins = self._admitted.turn is not None

    def do_result(self, _: str) -> None:
        """Read the result of the one handed in."""
        if self._admitted.result is None:
            self._misunderstood()
            return
        try:
            read_account(reread(self._admitted.result, self._drill), self.say)
        except Closed as error:
            self.say(f"It can't be read: {plain(str(error))}.")

    def do_stop(self, _: str) -> None:
        """Leave."""
        self._begins = False

    def _misunderstood(self) -> None:
        self.say("Not understood. To hear the rules again, type rules.")


def sit(
    drill: Drill,
    entrance: tuple[Path, str, Path | None],
    say: Say,
    listen: Listen,
    wait: Callable[[float], object] = time.sleep,
    interrupt: Interrupt | None = None,
) -> None:
    """Sit a drill line by line, from the student's id to handing in.

    Args:
        drill: the drill.
        entrance: the path of its file, the student's id ("" to ask for it), the records' folder.
        say: what says a line.
        listen: what asks for one, with a prompt.
        wait: what waits some seconds.
        interrupt: what the clock speaks with while a line is typed, None for scripts.

    Raises:
        Closed: where the drill can't be sat.
        EOFError: where the input ends before it has begun.
    """
    path, typed, folder = entrance
    say(drill.title)
    admitted = _admitted(drill, typed, folder, say, listen)
    if admitted is None:
        say(LEFT)
        return

    if not DoorLines(drill, admitted, folder, say, listen).begins():
        say(LEFT)
        return
    sitting = _opened(drill, admitted, folder, say, listen)
    if sitting is None:
        say(LEFT)
        return
    remember(sitting, path)
    DrillLines(sitting, say, listen, path, wait, interrupt).run()
    remember(sitting, path)


def _opened(
    drill: Drill, admitted: Admission, folder: Path | None, say: Say, listen: Listen
) -> Sitting | None:
    """Begin a sitting or go on with one, in another folder where need be; None where one leaves."""
    begun = None if admitted.turn is None else admitted.turn.path
    if admitted.needs_start_word(drill):
        drill = _unlocked(drill, say, listen)
        if drill.is_locked:
            return None
    elsewhere: Path | None = None
    while True:
        try:
            if begun is not None:
                return Sitting.resume(begun, drill, elsewhere)
            return Sitting.start(drill, admitted.student, folder)
        except RecordError as error:
            say(plain(not_kept(error, drill, folder)))
        other = listen("Another folder for it, Enter to try the same again, or stop: ").strip()
        if other.lower() in STOP:
            return None
        try:
            folder = elsewhere = folder_named(other) if other else folder
        except RecordError as error:
            say(f"That can't be used: {plain(str(error))}.")


def _unlocked(drill: Drill, say: Say, listen: Listen) -> Drill:
    """Ask for the start word until it is right; return the drill as it was where one leaves."""
    while True:
        typed = listen("The start word, or stop: ").strip()
        if key := key_of(drill.start_word, typed):
            return drill.with_key(key)
        if typed.lower() in STOP:
            return drill
        say(NOT_THE_WORD)


def _admitted(
    drill: Drill, typed: str, folder: Path | None, say: Say, listen: Listen
) -> Admission | None:
    """Return who the student is, None where one leaves; a wrong id is asked for again."""
    while True:
        asked = typed or listen("Your id: ")
        if not typed and asked.strip().lower() in STOP:
            return None
        try:
            return admission(drill, asked, folder, datetime.now(UTC))
        except NotListed as error:
            if typed:
                raise
            say(sentence(error))
