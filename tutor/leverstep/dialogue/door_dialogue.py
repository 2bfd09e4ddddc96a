"""The dialogue at the door of a drill: who is there, what is asked, and what comes of each answer.

It looks through records and makes keys of words, which takes a while: a face that may not stand
still calls it beside itself, one call at a time.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from enum import Enum, auto
from pathlib import Path

from leverstep.bench.record import RecordError, folder_named
from leverstep.course.phrases import sentence
from leverstep.dialogue.admission import Admission, admission
from leverstep.dialogue.notice import rules_in_words
from leverstep.dialogue.pin_told import pin_asked, pin_wait_told, wrong_pin_told
from leverstep.drill.begun import remember
from leverstep.drill.drill import Drill, same_student
from leverstep.drill.earlier import folder_of
from leverstep.drill.own_numbers import key_beside
from leverstep.drill.pin_tries import note_right, note_wrong, seconds_to_wait, tries_left
from leverstep.drill.sitting import Closed, NotListed, Sitting
from leverstep.drill.start_word import NOT_THE_WORD, key_of
from leverstep.slips.catalogue import Catalogue

MEANWHILE = "It has been begun meanwhile, perhaps in a second window: go on in only one of them."


class DoorAsks(Enum):
    """What is asked at the door.

    `STUDENT` is whose sitting it is, `PIN` the PIN of that student, `BEGIN` whether to begin or go
    on, `FOLDER` another folder where no record can be kept in the first.
    `NOTHING` is left for who may only read a result.
    """

    STUDENT = auto()
    PIN = auto()
    START_WORD = auto()
    BEGIN = auto()
    FOLDER = auto()
    NOTHING = auto()


@dataclass(frozen=True, slots=True)
class DoorRefusal:
    """What can't be done: why, as a clause, and what is told of it, in sentences.

    `is_of_id` says that it lies with the id alone, so that another one may be admitted.
    """

    why: str
    told: str
    is_of_id: bool = False


DoorReply = Admission | Sitting | DoorRefusal
"""What comes of an answer: who is known now, a sitting to be opened, or what can't be done."""


class DoorDialogue:
    """The door of one drill. `known` is who stands there, None before anybody is recognised."""

    def __init__(self, drill: Drill, catalogue: Catalogue, path: Path, folder: Path | None) -> None:
        """Open the door.

        Args:
            drill: the drill.
            catalogue: the slips that are looked for.
            path: where its file lies, for when it is come back to.
            folder: where records are to lie, None for the user's data folder.
        """
        self.drill = drill
        self.known: Admission | None = None
        self._catalogue = catalogue
        self._path = path
        self._folder = folder
        self._elsewhere: Path | None = None
        self._typed = ""
        self._is_unkept = False
        self._behind: Admission | None = None
        self._pin = ""

    @property
    def asks(self) -> DoorAsks:
        """Return what is asked now."""
        if self.known is None:
            return DoorAsks.STUDENT
        if self._behind is not None:
            return DoorAsks.PIN
        if self._is_unkept:
            return DoorAsks.FOLDER
        if self.known.turn is None:
            return DoorAsks.NOTHING
        is_locked = self.known.needs_start_word(self.drill)
        return DoorAsks.START_WORD if is_locked else DoorAsks.BEGIN

    def rules(self, hand_in: str, leave: str) -> tuple[str, ...]:
        """Return the rules, a sentence or two each; the face says how to hand in and to leave."""
        return tuple(rules_in_words(self.drill, self._folder, hand_in, leave))

    def is_known(self, typed: str) -> bool:
        """Return whether this is the id by which somebody was recognised."""
        return self.known is not None and typed.strip() == self._typed

    def forget(self) -> None:
        """Let go of who is known."""
        self.known, self._is_unkept, self._behind, self._pin = None, False, None, ""

    def enter(self, typed: str) -> DoorReply:
        """Recognise who an id is of; where that is known and nothing else is asked, begin."""
        if self.known is None or not self.is_known(typed):
            return self._recognised(typed.strip())
        return self.begin() if self.asks in (DoorAsks.BEGIN, DoorAsks.FOLDER) else self.known

    def show_pin(self, typed: str) -> Admission | DoorRefusal:
        """Take a PIN of who is known, or the teacher's word; tell what may be done where it is."""
        pins, behind, now = self.drill.pins, self._behind, datetime.now(UTC)
        assert pins is not None
        assert behind is not None
        drill, student = self.drill.id, behind.student
        waits = seconds_to_wait(drill, student, now)
        shown = pins.by_teacher(typed) if waits else pins.shown_by(same_student(student), typed)
        if not shown:
            if not waits:
                note_wrong(drill, student, now)
                waits = seconds_to_wait(drill, student, now)
            told = pin_wait_told(waits) if waits else wrong_pin_told(tries_left(drill, student))
            return DoorRefusal("this is not the PIN", told)
        note_right(drill, student)
        self._behind, self._pin = None, shown
        return self._admitted(behind)

    def unlock(self, typed: str) -> DoorRefusal | None:
        """Take a start word; return that it is another one, None where it is right."""
        key = key_of(self.drill.start_word, typed)
        if not key:
            return DoorRefusal("this is not the start word", NOT_THE_WORD)
        self.drill = self.drill.with_key(key)
        return None

    def name_folder(self, typed: str) -> DoorRefusal | None:
        """Take another folder for the record, "" for none; return why it can't be used, if so."""
        if typed.strip():
            try:
                self._elsewhere = folder_named(typed)
            except RecordError as error:
                return self._not_kept(error)
        return None

    def begin(self) -> DoorReply:
        """Begin the sitting of who is known, or go on with it.

        One that was begun in a second window meanwhile is told of, and is there to be gone on with.
        """
        known = self.known
        assert known is not None
        assert known.turn is not None
        path, folder = known.turn.path, self._elsewhere or self._folder
        try:
            if path is not None:
                sitting = Sitting.resume(
                    path, self.drill, self._catalogue, self._elsewhere, self._pin
                )
            else:
                now = admission(self.drill, known.student, folder, datetime.now(UTC))
                if now.turn is None or now.turn.path is not None:
                    return self._admitted(replace(now, told=f"{MEANWHILE} {now.told}"))
                sitting = Sitting.start(
                    self.drill, self._catalogue, known.student, folder, self._pin
                )
        except Closed as error:
            return self._closed(error)
        except RecordError as error:
            self._is_unkept = True
            return self._not_kept(error)
        remember(sitting, self._path)
        return sitting

    def read_result(self) -> Sitting | DoorRefusal:
        """Return the sitting of who is known that was handed in last, to read what came of it."""
        assert self.known is not None
        assert self.known.result is not None
        try:
            return Sitting.reread(self.known.result, self.drill, self._catalogue)
        except (Closed, RecordError) as error:
            return DoorRefusal(str(error), sentence(error))

    def _recognised(self, typed: str) -> DoorReply:
        self.forget()
        try:
            known = admission(self.drill, typed, self._folder, datetime.now(UTC))
            if self.drill.own_numbers:
                self.drill = self.drill.with_key(self._own_key(known))
        except Closed as error:
            return self._closed(error)
        self._typed = typed
        if self.drill.pins is None:
            return self._admitted(known)
        self._behind = known
        told = pin_asked(self.drill.pins, known.student)
        return self._admitted(Admission(known.student, "", None, None, told))

    def _own_key(self, known: Admission) -> str:
        """Return the key of a student's own numbers where a sitting is to begin, else "".

        Raises:
            NotListed: where the file that has it is not there, or is another one.
        """
        if known.turn is None or known.turn.path is not None:
            return ""
        return key_beside(self._path.parent, self.drill, known.student)

    def _admitted(self, known: Admission) -> Admission:
        self.known, self._is_unkept = known, False
        return known

    def _closed(self, error: Closed) -> DoorRefusal:
        """Return why nobody may begin by this id, and let go of who was known by it."""
        self.forget()
        return DoorRefusal(str(error), sentence(error), isinstance(error, NotListed))

    def _not_kept(self, error: RecordError) -> DoorRefusal:
        """Return that no record can be kept, and of which folder to ask."""
        told = f"The record can't be saved: {error}."
        folder = self._elsewhere or self._folder
        if folder is not None:
            place = folder_of(self.drill, folder)
            told += f" Ask your teacher about the folder {place}, or name another one."
        return DoorRefusal(str(error), told)
