"""The start word of a drill: told in the room when it begins, and mixed into the numbers.

The drill's file holds a lock: a salt, and a hash of the key. The key is what scrypt makes of the
word and the salt, slowly, so that words can't be tried by the thousand. A record holds the key, so
that it can be marked without the word; whether it is the right one is known by the lock.
"""

from __future__ import annotations

import hashlib
import re
import secrets
from pathlib import Path

from leverstep.course.faults import Fault, FileError
from leverstep.drill.drill import Drill
from leverstep.drill.rule_writing import set_rules
from leverstep.drill.slow_hash import as_spoken, stretched

LONGEST_WORD = 100
LEAST_WORD = 8
"""Letters and other signs, spaces not counted: two words rather than one."""

NOT_THE_WORD = "That is not the start word. It is given out in the room when the drill begins."

LOCK = re.compile(r"(?P<salt>[0-9a-f]{16}):[0-9a-f]{32}")


def lock_of(word: str) -> str:
    """Return a new lock for a word; no two are alike."""
    salt = secrets.token_hex(8)
    return f"{salt}:{_check(_key(word, salt))}"


def key_of(lock: str, typed: str) -> str:
    """Return the key that a word comes to, "" where it is not the word of this lock."""
    found = LOCK.fullmatch(lock)
    key = _key(typed, found["salt"]) if found else ""
    return key if is_key_of(lock, key) else ""


def is_key_of(lock: str, key: str) -> bool:
    """Return whether a key is that of a lock; for no lock that is no key."""
    return lock.partition(":")[2] == (_check(key) if key else "")


def _key(word: str, salt: str) -> str:
    data = as_spoken(word).encode(errors="backslashreplace")
    return stretched(data, bytes.fromhex(salt)).hex()


def _check(key: str) -> str:
    return hashlib.sha256(bytes.fromhex(key)).hexdigest()[:32]


def unlocked(drill: Drill, word: str | None) -> Drill:
    """Return a drill with the numbers that its start word gives.

    Raises:
        FileError: where it has a start word that is not this one, or none and one is given.
    """
    if word is None and not drill.start_word:
        return drill
    expected = "--start-word with the word that was set"
    found = "its numbers follow from its start word too"
    if word is not None:
        if key := key_of(drill.start_word, word):
            return drill.with_key(key)
        found = "this is not its start word"
        if not drill.start_word:
            found, expected = "it has no start word", "no --start-word"
    raise FileError([Fault(drill.id, "", found, expected)])


def set_start_word(path: Path, word: str) -> None:
    """Write the lock of a word into a drill's file, in the place of the one before or near its top.

    Raises:
        FileError: where the file can't be read or written, or has no place for it.
    """
    set_rules(path, f'start_word = "{lock_of(word)}"')
