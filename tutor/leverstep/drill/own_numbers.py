"""Numbers from a file of the student's own: made by the teacher, and read as a sitting begins.

The secret that they all come of lies in the teacher's user data alone. Each student's file has what
it comes to for that student, and lies beside the drill where it is sat.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace
from pathlib import Path

from leverstep.course.faults import Fault, FileError
from leverstep.course.places import home
from leverstep.course.plain_files import read_text
from leverstep.course.sharing import keep_secret, make_folder
from leverstep.drill.drill import Drill, file_stem, same_student
from leverstep.drill.own_key import SECRET, mark_of, new_secret, own_key
from leverstep.drill.sitting import NotListed
from leverstep.drill.start_word import unlocked

_LARGEST = 2000
"""Bytes of such a file, or of a secret, that will be read."""

NO_SECRET = "the secret that the numbers of its students come from is not on this computer"


def place_of_secret(mark: str) -> Path:
    """Return where the secret with a mark lies in the user's data."""
    return home() / "number-secrets" / f"{mark}.txt"


def make_secret() -> str:
    """Make a secret, keep it in the user's data, and return its mark.

    Raises:
        OSError: where it can't be kept.
    """
    secret = new_secret()
    place = place_of_secret(mark_of(secret))
    make_folder(place.parent)
    keep_secret(place, secret.encode())
    return mark_of(secret)


def with_number_secret(drill: Drill) -> Drill:
    """Return a drill with the secret of its numbers, and its earlier versions with theirs.

    What is not on this computer, or is not the secret of that mark, is left away.
    """
    earlier = tuple(map(with_number_secret, drill.sat_with))
    secret = _secret(drill.own_numbers) if drill.own_numbers else ""
    if not secret and earlier == drill.sat_with:
        return drill
    return replace(drill, number_secret=secret, sat_with=earlier)


def _secret(mark: str) -> str:
    try:
        secret = read_text(place_of_secret(mark), _LARGEST).strip()
    except (OSError, UnicodeError):
        return ""
    return secret if SECRET.fullmatch(secret) and mark_of(secret) == mark else ""


def opened(drill: Drill, word: str | None) -> Drill:
    """Return a drill with the numbers that its start word gives, or the secret on this computer.

    Raises:
        FileError: where these are missing, or the word is another one.
    """
    drill = with_number_secret(drill)
    if drill.own_numbers and not drill.number_secret:
        expected = (
            f"the computer where they were made, or its file {place_of_secret(drill.own_numbers)}"
        )
        raise FileError([Fault(drill.id, "", NO_SECRET, expected)])
    return unlocked(drill, word)


def file_name(drill: Drill, student: str) -> str:
    """Return what the file of a student is called; no two students of a drill share one."""
    hashed = hashlib.sha256(same_student(student).encode(errors="backslashreplace")).hexdigest()
    return f"{drill.id}-{file_stem(student)}-{hashed[:8]}.numbers"


def file_text(drill: Drill, student: str) -> str:
    """Return what stands in the file of a student, by the secret that the drill has at hand."""
    key = own_key(drill.number_secret, drill.id, same_student(student))
    said = {"drill": drill.id, "student": student, "key": key}
    return json.dumps({**said, "check": _check(drill, student, key)}, indent=1) + "\n"


def key_beside(folder: Path, drill: Drill, student: str) -> str:
    """Return the key in the file of a student.

    Args:
        folder: where it lies, beside the drill.
        drill: which drill it is to be for.
        student: whose it is to be.

    Raises:
        NotListed: where it is not there, or is that of another student or drill, or was changed.
    """
    name = file_name(drill, student)
    try:
        found = json.loads(read_text(folder / name, _LARGEST))
        key, check = str(found["key"]), found["check"]
    except FileNotFoundError as error:
        missing = f"{name} does not lie beside the drill: ask your teacher for it"
        told = f"your numbers come from a file of your own, and {missing}"
        raise NotListed(told) from error
    except (OSError, ValueError, RecursionError, TypeError, KeyError) as error:
        raise NotListed(f"the file of your numbers, {name}, can't be read") from error
    if not SECRET.fullmatch(key) or check != _check(drill, student, key):
        told = f"{name} is not the file of {student} for this drill, or it was changed"
        raise NotListed(told)
    return key


def _check(drill: Drill, student: str, key: str) -> str:
    """Return what shows by mistake changed files: whoever means to can work it out too."""
    said = "\x1f".join((drill.own_numbers, drill.id, same_student(student), key))
    return hashlib.sha256(said.encode(errors="backslashreplace")).hexdigest()[:16]
