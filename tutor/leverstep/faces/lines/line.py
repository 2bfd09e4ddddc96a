"""Line by line: the same working as plain lines, for screen readers, scripts and pipes.

One fact on each line, no cursor movement, no boxes, no colour. Prompts end in a colon and a space.
"""

from __future__ import annotations

from collections.abc import Callable

from leverstep.bench.record_note import RecordNote
from leverstep.course.phrases import ended
from leverstep.course.plain_text import plain
from leverstep.course.symbols import read_out
from leverstep.diagram.described import describe_one
from leverstep.dialogue.ending import ending
from leverstep.dialogue.example_told import GOES_ON
from leverstep.dialogue.free_ways import ways_to_write
from leverstep.dialogue.picture_dialogue import PictureDialogue
from leverstep.dialogue.replies import DialogueAnswer, Reply, Way
from leverstep.dialogue.terms_told import terms_of_line
from leverstep.dialogue.working_dialogue import Answering, WorkingDialogue
from leverstep.entry.forms import FORMS, NOTES, is_like_line
from leverstep.faces.lines.line_reading import ReadOut
from leverstep.faces.lines.looking_up import LookingUp
from leverstep.faces.lines.picture_lines import PICTURE_PROMPT, PictureLines
from leverstep.faces.lines.verbs import Listening, Verb, help_of, understood
from leverstep.faces.terminal import Listen, Say
from leverstep.free_body.placing_words import is_for_picture
from leverstep.glossary.glossary import Glossary
from leverstep.glossary.term import GlossaryTerm
from leverstep.questions.choice_question import ChoiceQuestion, OfferedAnswer, QuestionSort
from leverstep.statics.step import Step
from leverstep.working.cautions import CAUTION_SAID
from leverstep.working.page import found, line_name, posture_of, within_reach

_DRAWING_FIRST = "First the diagram: type done once it is complete, or skip to go on without it."

RECKON_EXAMPLE = "0.27*0.682"
"""Arithmetic of no problem, to be worked out."""

_WAYS = {
    Way.BACK: "",
    Way.HINTS: "Type hints to hear them again.",
    Way.UNITS: "Type units to have such numbers taken in the unit asked for.",
}
"""What the words do that lead on from an answer."""


class LineMode(LookingUp, Listening, ReadOut):
    """Asks for each line in turn until all are right or the input ends.

    A question is said again only where it has changed, since the prompt names its line; Enter alone
    says it again.
    """

    ends_with = "Type stop to end here."
    meanwhile = frozenset({"problem", "givens", "term", "terms"})
    """What can be done while a picture is drawn, too."""

    def __init__(self, dialogue: WorkingDialogue, say: Say, listen: Listen) -> None:
        super().__init__(dialogue, say)
        self.listen: Listen = lambda prompt: listen(read_out(prompt))
        self.is_left = False
        self._asked = ""
        self._posture = ""
        self._offered: tuple[OfferedAnswer, ...] = ()
        self._met: set[str] = set()
        self._drawing = PictureLines(
            self.say, self._picture, self._draw, self.do_stop, self._words_meanwhile
        )

    def run(self) -> None:
        """Work the question; returns at its end, at `stop`, or where the input ends."""
        try:
            self._open()
            self._work()
        except EOFError:
            self.say("")
            self._leave("The input has ended.")
        except KeyboardInterrupt:
            self.say("")
            self._leave("Stopped.")

    def _open(self) -> None:
        """Say what the first line is asked for, and how to find out more."""
        self.read_problem()
        self.read_other()
        self.say("Type help for what you can type.")
        for line in ways_to_write(self.working) if self.working.guidance.free else ():
            self.say(line)
        self.read_half_typed(self.record_note)

    def _work(self) -> None:
        while prompt := self._next():
            self.follow(self.listen(prompt).strip())
            if self.is_left:
                return
        self._end()

    def _next(self) -> str:
        """Ask what is to be answered, or for the next line; return the prompt, "" at the end."""
        question = self.dialogue.question
        if question is not None and question.sort is QuestionSort.SURE:
            answers = (f"{number} {one.text}" for number, one in enumerate(question.answers, 1))
            return f"How sure, {', '.join(answers)}: "
        if question is not None:
            self._put(question)
            if question.is_read:
                return "Enter goes on: "
            return f"1 to {len(question.answers)}: "
        step = self._step()
        if step is None:
            return ""
        self._ask(step)
        return self._prompt(step)

    def _put(self, question: ChoiceQuestion) -> None:
        """Say a question, and its answers unless they are those that were said last."""
        place = self.dialogue.question_place
        asks = f"Question {place}: {question.asks}" if place else question.asks
        if asks == self._asked:
            return
        self._say_new(asks)
        if question.is_read:
            return
        if not self._offered:
            self.say("Type the number of your answer, or skip.")
        if question.answers != self._offered:
            self._offered = question.answers
            for number, answer in enumerate(question.answers, 1):
                self.say(f"{number}: {ended(answer.text)}")

    def follow(self, text: str) -> bool:
        """Do what a text says, at a picture or a question what can be done there."""
        question = self.dialogue.question
        if self.dialogue.picture is not None:
            if understood(text, self._words_meanwhile()) is not None:
                return super().follow(text)
            return self._waits(text) or self._drawing.follow(text)
        return super().follow(text) if question is None else self._choose(question, text)

    def _waits(self, text: str) -> bool:
        """Say of a word or a line of the working that it waits; return whether it is one."""
        word = text.lower()
        if is_like_line(text) and not is_for_picture(text):
            self.say(f"That reads as a line of the working. {_DRAWING_FIRST}")
            return True
        is_drawn = any(word in verb.words for verb in self._drawing.verbs)
        if is_drawn or not any(word in verb.words for verb in self.verbs):
            return False
        self.say(f"The word {word} is for the lines. {_DRAWING_FIRST}")
        return True

    def _choose(self, question: ChoiceQuestion, text: str) -> bool:
        """Take a number as the answer of a question, or do what can be done beside it."""
        found = understood(text, self.verbs)
        if question.is_read and not text:
            self.act(lambda: self.answering.choose(1))
        elif text.isdecimal() and len(text) == 1:
            self.act(lambda: self.answering.choose(int(text)))
        elif (not text and question.sort is QuestionSort.SURE) or (
            found is not None and found[0].does == "skip"
        ):
            self.act(lambda: self.answering.choose(0))
        elif found is not None and found[0].without_line:
            return super().follow(text)
        else:
            self.say(_answering(question))
        return True

    def _picture(self) -> PictureDialogue:
        """Return the picture that is to be drawn now."""
        picture = self.dialogue.picture
        assert picture is not None, "a picture is to be drawn"
        return picture

    def _draw(self, deed: Callable[[], DialogueAnswer]) -> None:
        """Do something at the picture, and say what came of it; at its end read the right one."""
        question = self._picture().picture.question
        self.act(lambda: self.answering.draw(deed))
        if question.problem.posture.mark not in self.dialogue.hidden_pictures:
            for line in describe_one(question, found(self.working)):
                self.say(line)

    def _words_meanwhile(self) -> tuple[Verb, ...]:
        """Return the words of the working that can be typed while a picture is drawn."""
        return tuple(verb for verb in self.offered if verb.does in self.meanwhile)

    def _prompt(self, step: Step) -> str:
        if self.dialogue.picture is not None:
            return PICTURE_PROMPT
        return "Line: " if self.dialogue.is_free else f"{line_name(step)}: "

    def let_go(self) -> None:
        """Enter a line that is held back for how sure the student is, before anything ends."""
        question = self.dialogue.question
        if question is not None and question.sort is QuestionSort.SURE:
            self.act(lambda: self.answering.choose(0))

    def _leave(self, why: str) -> None:
        """Say why the working ends here, whether it is kept, and how it is taken up again."""
        self.let_go()
        back = f"leverstep practise {self.working.question.problem.id} --go-on"
        kept = f"What was typed is kept. To come back: {back}"
        self.say(f"{why} {plain(self.dialogue.unsaved) or kept}")

    def _step(self) -> Step | None:
        """Return the line to ask for; lines that were left come round again at the end."""
        if still_open := self.dialogue.come_round():
            self.say(f"{still_open} {self.ends_with}")
        return self.dialogue.at_hand

    def _ask(self, step: Step) -> None:
        """Ask for a line, with an example the first time that one of its kind comes."""
        if self.dialogue.picture is not None:
            self._say_new(self._picture().asks, f" {self._drawing.form} Type forces to hear them.")
            return
        asked = self.dialogue.asked
        if asked is not None:
            kind = step.unit if step.kind.is_number else step.kind.name
            shown = "" if kind in self._met else f" For example: {asked.example}"
            asks = f"{asked.place}: {asked.asks}" if asked.place else asked.asks
            self._say_new(asks, shown, posture_of(self.working.question, step))
            self._met.add(kind)

    def _say_new(self, asks: str, more: str = "", posture: str = "") -> None:
        """Say what is asked for, unless it is what was said last, behind a new posture."""
        if asks != self._asked:
            self._asked = asks
            self.say("")
            if posture != self._posture and posture:
                self.say(f"{posture}.")
            self._posture = posture
            self.say(f"{asks}{more}")

    def tell(self, answer: DialogueAnswer) -> None:
        """Say what came of something."""
        name = f"{answer.name}: " if answer.is_free and answer.name else ""
        way = "" if answer.way is None else _WAYS[answer.way]
        hint = f"{answer.hint.heading}: {answer.hint.text}" if answer.hint else ""
        told = f"{name}{answer.told} {way}".rstrip() if answer.told else ""
        for part in (self.dialogue.unsaved, told, answer.changed, hint, answer.moved):
            if part:
                self.say(plain(part))

    def act(self, deed: Callable[[], Reply]) -> bool:
        """Do something at the working, and say what came of it; return whether it was done."""
        reply = deed()
        if isinstance(reply, DialogueAnswer):
            self.tell(reply)
        return isinstance(reply, DialogueAnswer)

    @property
    def answering(self) -> Answering:
        """Return what answers the student."""
        return self.dialogue

    @property
    def glossary(self) -> Glossary:
        """Return the terms there are."""
        return Glossary(self.dialogue.bench.catalogue.terms)

    @property
    def terms_at_hand(self) -> list[GlossaryTerm]:
        """Return the terms of the line at hand; none at the end."""
        step = self.dialogue.at_hand
        return terms_of_line(self.glossary, self.working.question, step) if step else []

    def do_work_out(self, text: str) -> None:
        """Work out a line of arithmetic, or say how that is asked for, and what has a value."""
        if text or not self.working.rules.calculator:
            self.say(self.dialogue.reckon(text).told)
            return
        self.say(f"Type work out and arithmetic, such as work out {RECKON_EXAMPLE}.")
        self.say(f"These have a value: {', '.join(self.dialogue.reckoner.has_value)}.")

    def do_use_result(self, _: str) -> None:
        """Enter what was worked out last as the line at hand."""
        if result := self.dialogue.reckoner.last:
            self.say(result)
            self.do_enter(result)
        else:
            self.say("Nothing is worked out yet. Type work out, and arithmetic.")

    @property
    def record_note(self) -> RecordNote | None:
        """Return the note beside the record; None where there is no record."""
        return None

    def do_enter_alone(self, _: str) -> None:
        """Say the question again, and what can be typed."""
        self._asked, self._offered = "", ()
        if self.dialogue.question is not None:
            return
        words = ", ".join(verb.name for verb in self.offered if verb.short)
        self.say(f"Type the line, or a word: {words}.")

    def do_help(self, _: str) -> None:
        """Say what can be typed; at a question, how it is answered."""
        question = self.dialogue.question
        if question is not None:
            beside = help_of(verb for verb in self.offered if verb.without_line)
            for line in (_answering(question), *beside, CAUTION_SAID):
                self.say(line)
            return
        forms = (f"{', '.join(forms)}: {shows}." for forms, shows in FORMS)
        free = ways_to_write(self.working) if self.working.guidance.free else ()
        for line in (*forms, *NOTES, *help_of(self.offered), *free, CAUTION_SAID):
            self.say(line)

    def do_hint(self, name: str) -> None:
        """Give the next hint of the line at hand, or of the one named."""
        key = self._meant(name)
        if key:
            self.act(lambda: self.answering.hint(key))

    def do_hints(self, name: str) -> None:
        """Say the hints of a line again."""
        if key := self._meant(name):
            self.read_hints(key)

    def do_missing(self, _: str) -> None:
        """Tell what is missing."""
        self.read_missing()

    def do_lines(self, _: str) -> None:
        """Read the working so far."""
        self.read_lines()

    def do_problem(self, _: str) -> None:
        """Read the problem again."""
        self._asked = ""
        self.read_problem(again=True)

    def do_givens(self, _: str) -> None:
        """Read what is given, with g and the factors to take."""
        self.read_givens()

    def do_skip(self, _: str) -> None:
        """Skip the line at hand for now."""
        self.act(self.answering.skip)

    def do_enter(self, text: str) -> None:
        """Enter a line. What was half typed before has been told, and is let go with that."""
        if self.act(lambda: self.answering.submit(text)) and self.record_note is not None:
            self.record_note.keep_typed(())

    def do_earlier(self, number: str) -> None:
        """Say what was typed at this line before, or enter the one of a number again."""
        texts = {str(n): text for n, text in enumerate(self.dialogue.earlier_entries, 1)}
        if number in texts:
            self.say(texts[number])
            self.do_enter(texts[number])
        elif not texts:
            self.say("Nothing was typed at this line before.")
        elif number:
            self.say(f"What was typed before is numbered 1 to {len(texts)}.")
        else:
            for place, text in texts.items():
                self.say(f"{place}: {text}")

    def do_stop(self, _: str) -> None:
        """Leave the working."""
        self._leave("Stopped.")
        self.is_left = True

    def do_back(self, name: str) -> None:
        """Open an earlier line again, the one before or the one named, with what was said of it."""
        key = self._reached(name) if name else self.dialogue.before
        if key is None:
            if not name:
                self.tell(self.dialogue.go(-1))
            return
        if key:
            self._read_line(key)
        if closed := self.dialogue.closed_told(key):
            self.say(closed)
        else:
            self.dialogue.go_to(key)

    def _read_line(self, key: str) -> None:
        """Say how a line stands that is gone back to, and the hints that were given there."""
        if key not in self.working.lines:
            self.say(f"{line_name(self.working.step(key))}: nothing is written there yet.")
        elif self.working.closed(key):
            self.say(self.standing(key))
        else:
            self.say(f"{self.text_named(key)}. {self.dialogue.opened(key)}")
        if self.dialogue.hints(key):
            self.read_hints(key)

    def _meant(self, name: str) -> str | None:
        """Return the key of the line that a hint is for; None, and why, where there is none."""
        if not name:
            return self.dialogue.hinted or self.working.steps[-1].key
        return self._reached(name, self.working.guidance.free)

    def _reached(self, name: str, anywhere: bool = False) -> str | None:
        """Return the key of the line with this name; None, and why, where it can't be gone to."""
        wanted = self.named(name)
        if wanted is None:
            names = ", ".join(line_name(step) for step in self.working.steps)
            self.say(f"There is no such line. The lines are {names}.")
        elif wanted in self.working.filled:
            self.say(self.standing(wanted))
        elif not anywhere and wanted not in within_reach(self.working):
            name = line_name(self.working.step(wanted))
            free = f"{name} is not written yet. Write it with its symbol."
            led = f"{name} comes later: first the lines before it."
            self.say(free if self.working.guidance.free else led)
        else:
            return wanted
        return None

    def _end(self) -> None:
        """Say how the working went, and what was found."""
        end = ending(self.dialogue.bench)
        self.say("")
        for line in (end.headline, *end.results, CAUTION_SAID, end.account):
            self.say(line)


def _answering(question: ChoiceQuestion) -> str:
    """Return what is typed at a question."""
    if question.is_read:
        return GOES_ON
    is_sure = question.sort is QuestionSort.SURE
    passes = "Enter or skip" if is_sure else "skip"
    again = "" if is_sure else ", Enter says it again"
    return f"Type a number from 1 to {len(question.answers)}; {passes} passes it over{again}."
