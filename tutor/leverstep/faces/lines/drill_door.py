"""The door of a drill line by line: whose sitting it is, its rules, and whether it is to begin."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

from leverstep.course.plain_text import plain
from leverstep.dialogue.admission import Admission
from leverstep.dialogue.door_dialogue import DoorAsks, DoorDialogue, DoorRefusal
from leverstep.drill.begun import remember
from leverstep.drill.drill import Drill
from leverstep.drill.sitting import Closed, Sitting
from leverstep.faces.lines.drill_line import HAND_IN, LEAVE, DrillLines, read_account
from leverstep.faces.lines.speaking_beside import Interrupt
from leverstep.faces.lines.verbs import Listening, Place, Verb
from leverstep.faces.terminal import STOP, Listen, Say
from leverstep.slips.catalogue import Catalogue
from leverstep.working.cautions import CAUTION_SAID

LEFT = "You have left; nothing was begun or changed."


class DoorLines(Listening):
    """Talks a student through the door: who it is, then to begin, read a result, or leave."""

    place = Place.DOOR

    def __init__(
        self, dialogue: DoorDialogue, say: Say, listen: Listen, listen_unseen: Listen
    ) -> None:
        self.say, self.listen, self._listen_unseen = say, listen, listen_unseen
        self.dialogue = dialogue
        self._begins: bool | None = None

    @property
    def _known(self) -> Admission:
        """Return who stands at the door; before that nothing is asked here but the id."""
        assert self.dialogue.known is not None
        return self.dialogue.known

    @property
    def offered(self) -> tuple[Verb, ...]:
        """Return what the prompt names: no result where there is none, no way out of nothing."""
        hidden = "" if self._known.result else "result", "" if self._known.turn else "stop"
        return tuple(verb for verb in self.verbs if verb.short and verb.does not in hidden)

    def opened(self, typed: str) -> Sitting | None:
        """Return the sitting that begins or goes on, None where one leaves.

        Raises:
            Closed: where the drill can't be sat.
        """
        if not self._is_recognised(typed) or not self._is_let_in():
            return None
        is_over = self.dialogue.asks is DoorAsks.NOTHING and self._known.result is not None
        if is_over:  # the rules can still be asked for
            self._say_who()
        else:
            self.do_rules("")
        while self._is_to_begin():
            reply = self._begun()
            if not isinstance(reply, Admission):
                return reply
            self.say(reply.told)
        return None

    def do_rules(self, _: str) -> None:
        """Tell the rules, and whose sitting it is."""
        for rule in self.dialogue.rules(HAND_IN, LEAVE):
            self.say(plain(rule))
        self._say_who()

    def _say_who(self) -> None:
        """Tell the caution, whose sitting it is, and how it stands."""
        for told in (CAUTION_SAID, self._known.whose, self._known.told):
            if told:
                self.say(told)

    def do_begin(self, _: str) -> None:
        """Begin or go on, where there is a sitting to."""
        self._begins = self.dialogue.asks is not DoorAsks.NOTHING

    def do_result(self, _: str) -> None:
        """Read the result of the one handed in."""
        if self._known.result is None:
            self._misunderstood()
            return
        reply = self.dialogue.read_result()
        if isinstance(reply, DoorRefusal):
            self.say(f"It can't be read: {plain(reply.why)}.")
        else:
            read_account(reply, self.say)

    def do_stop(self, _: str) -> None:
        """Leave."""
        self._begins = False

    def _misunderstood(self) -> None:
        self.say("Not understood. To hear the rules again, type rules.")

    def _is_recognised(self, typed: str) -> bool:
        """Find out who the student is; a wrong id is asked for again. False where one leaves."""
        while True:
            asked = typed or self.listen("Your id: ")
            if not typed and asked.strip().lower() in STOP:
                return False
            reply = self.dialogue.enter(asked)
            if not isinstance(reply, DoorRefusal):
                return True
            if typed or not reply.is_of_id:
                raise Closed(reply.why)
            self.say(reply.told)

    def _is_let_in(self) -> bool:
        """Ask for the PIN until it is right, where one is asked for; False where one leaves."""
        if self.dialogue.asks is DoorAsks.PIN:
            self.say(self._known.told)
        while self.dialogue.asks is DoorAsks.PIN:
            typed = self._listen_unseen("Your PIN, or stop: ").strip()
            if typed.lower() in STOP:
                return False
            if typed and isinstance(reply := self.dialogue.show_pin(typed), DoorRefusal):
                self.say(reply.told)
        return True

    def _is_to_begin(self) -> bool:
        """Ask whether a sitting is to begin or go on."""
        does = (f"{one.name} {one.told or self._known.does}" for one in self.offered)
        prompt = f"{', '.join(does)}: "
        self._begins = None
        while self._begins is None:
            if not self.follow(self.listen(prompt).strip()):
                self._misunderstood()
        return self._begins

    def _begun(self) -> Sitting | Admission | None:
        """Begin or go on, in another folder where need be; None where one leaves."""
        if self.dialogue.asks is DoorAsks.START_WORD and not self._is_unlocked():
            return None
        reply = self.dialogue.begin()
        while isinstance(reply, DoorRefusal):
            if self.dialogue.asks is not DoorAsks.FOLDER:
                raise Closed(reply.why)
            self.say(plain(reply.told))
            typed = self.listen("Another folder for it, Enter to try the same again, or stop: ")
            if typed.strip().lower() in STOP:
                return None
            if refused := self.dialogue.name_folder(typed):
                self.say(f"That can't be used: {plain(refused.why)}.")
            reply = self.dialogue.begin()
        return reply

    def _is_unlocked(self) -> bool:
        """Ask for the start word until it is right; False where one leaves."""
        while True:
            typed = self.listen("The start word, or stop: ").strip()
            refused = self.dialogue.unlock(typed)
            if refused is None:
                return True
            if typed.lower() in STOP:
                return False
            self.say(refused.told)


def sit(
    drill: Drill,
    catalogue: Catalogue,
    entrance: tuple[Path, str, Path | None],
    say: Say,
    listen: Listen,
    wait: Callable[[float], object] = time.sleep,
    interrupt: Interrupt | None = None,
    listen_unseen: Listen | None = None,
) -> None:
    """Sit a drill line by line, from the student's id to handing in.

    Args:
        drill: the drill.
        catalogue: the slips that are looked for.
        entrance: the path of its file, the student's id ("" to ask for it), the records' folder.
        say: what says a line.
        listen: what asks for one, with a prompt.
        wait: what waits some seconds.
        interrupt: what the clock speaks with while a line is typed, None for scripts.
        listen_unseen: what asks for a line that is not shown, None where nobody sees what is typed.

    Raises:
        Closed: where the drill can't be sat.
        EOFError: where the input ends before it has begun.
    """
    path, typed, folder = entrance
    say(drill.title)
    dialogue = DoorDialogue(drill, catalogue, path, folder)
    sitting = DoorLines(dialogue, say, listen, listen_unseen or listen).opened(typed)
    if sitting is None:
        say(LEFT)
        return
    DrillLines(sitting, say, listen, path, wait, interrupt).run()
    remember(sitting, path)
