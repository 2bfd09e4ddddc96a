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
from leverstep.faces.terminal import STOP, Listen, Say
from leverstep.working.wording import CAUTION_SAID

LEFT = "You have left; nothing was begun or changed."


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

    def tell() -> None:
        for rule in rules_in_words(drill, folder, HAND_IN, LEAVE):
            say(plain(rule))
        say(CAUTION_SAID)
        say(admitted.whose)
        if admitted.told:
            say(admitted.told)

    tell()
    if not _begins(drill, admitted, tell, say, listen):
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


def _begins(
    drill: Drill, admitted: Admission, tell: Callable[[], None], say: Say, listen: Listen
) -> bool:
    """Ask what is to be done, until a sitting is to begin or go on, or the student leaves.

    `tell` says the rules, and whose sitting it is, again.
    """
    does = [f"Enter {admitted.does}"]
    if admitted.result is not None:
        does.append("result reads the one handed in")
    if admitted.turn is not None:
        does.append("stop leaves")
    while True:
        typed = listen(f"{', '.join(does)}: ").strip().lower()
        if typed == "result" and admitted.result is not None:
            try:
                read_account(reread(admitted.result, drill), say)
            except Closed as error:
                say(f"It can't be read: {plain(str(error))}.")
        elif typed == "rules":
            tell()
        elif not typed or typed in STOP:
            return not typed and admitted.turn is not None
        else:
            say("Not understood. To hear the rules again, type rules.")


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
