"""What a student does faster than it can be answered: one deed after the other."""

from __future__ import annotations

from collections.abc import Callable

from leverstep.dialogue.replies import DialogueAnswer

PictureDeed = Callable[[], DialogueAnswer]
"""What is done at a picture."""


class DeedsInRow:
    """Deeds of which each is begun once the one before is answered, so that no key is lost."""

    def __init__(self, attempt: Callable[[PictureDeed], bool]) -> None:
        """Begin with none.

        Args:
            attempt: what has a deed done, and returns whether it could be begun.
        """
        self._attempt = attempt
        self._waiting: list[PictureDeed] = []
        self._is_doing = False

    def add(self, deed: PictureDeed) -> None:
        """Have something done, after what is being done already."""
        self._waiting.append(deed)
        self.go_on()

    def done(self) -> None:
        """Take note that what was being done is answered."""
        self._is_doing = False

    def go_on(self) -> None:
        """Begin with the next one, if any waits and nothing is being done."""
        if self._waiting and not self._is_doing:
            self._is_doing = self._attempt(self._waiting[0])
            del self._waiting[: self._is_doing]

    def clear(self) -> None:
        """Drop what waits."""
        self._waiting.clear()
