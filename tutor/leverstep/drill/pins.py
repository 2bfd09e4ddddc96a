"""The PINs of a class, of which there are slow hashes alone: who is let in, and by which."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from leverstep.drill.slow_hash import SlowHash, as_spoken

LEAST_PIN, LONGEST_PIN = 4, 40
"""Letters and digits of a PIN."""

BY_TEACHER = "teacher"
"""What a record has in the place of a PIN where the teacher let a student in."""


def as_compared(typed: str) -> str:
    """Return a PIN, or the teacher's word, as it is compared: its letters and digits alone."""
    return "".join(filter(str.isalnum, as_spoken(typed)))


@dataclass(frozen=True)
class Pins:
    """The hash of each student's PIN, by id as it is compared, and that of the teacher's word.

    `teacher` is None where there is no file of hashes: then nobody is let in.
    """

    teacher: SlowHash | None = None
    students: Mapping[str, SlowHash] = field(default_factory=dict, hash=False)

    def shown_by(self, student: str, typed: str) -> str:
        """Return what a record has for a PIN that was typed, "" where it is not the student's.

        The teacher's word lets in anyone.

        Args:
            student: the id as it is compared.
            typed: what was typed.
        """
        secret, own = as_compared(typed), self.students.get(student)
        if own is not None and own.is_of(secret):
            return mark_of(own)
        return self.by_teacher(typed)

    def by_teacher(self, typed: str) -> str:
        """Return what a record has where the teacher's word was typed, "" where it was not."""
        is_right = self.teacher is not None and self.teacher.is_of(as_compared(typed))
        return BY_TEACHER if is_right else ""

    def without(self, students: Iterable[str]) -> Pins:
        """Return them without those of some students, by id as it is compared."""
        gone = set(students)
        left = {one: own for one, own in self.students.items() if one not in gone}
        return replace(self, students=left)

    def mark(self, student: str) -> str:
        """Return what a record has for the PIN of a student, by the id; "" for none."""
        own = self.students.get(student)
        return "" if own is None else mark_of(own)


def mark_of(own: SlowHash) -> str:
    """Return what tells one hash from another; it says nothing of the PIN that the hash doesn't."""
    return hashlib.sha256(str(own).encode()).hexdigest()[:16]
