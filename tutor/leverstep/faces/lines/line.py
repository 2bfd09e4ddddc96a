"""Line by line: the same working as plain lines, for screen readers, scripts and pipes.

One fact on each line, no cursor movement, no boxes, no colour. Prompts end in a colon and a space.
"""

from __future__ import annotations

from collections.abc import Callable

from leverstep.bench.record_note import RecordNote
from leverstep.course.plain_text import plain
from leverstep.course.symbols import read_out
from leverstep.diagram.described import describe_one
from leverstep.dialogue.ending import ending
from leverstep.dialogue.free_ways import ways_to_write
from leverstep.dialogue.picture_dialogue import PictureDialogue
from leverstep.dialogue.replies import DialogueAnswer, Reply, Way
from leverstep.dialogue.terms_told import terms_of_line
from leverstep.dialogue.working_dialogue import Answering, WorkingDialogue
from leverstep.entry.forms import FORMS, NOTES, is_like_line
from leverstep.faces.lines.asking import Asking, way_to_answer
from leverstep.faces.lines.line_meant import line_meant, line_reached
from leverstep.faces.lines.line_reading import ReadOut
from leverstep.faces.lines.looking_up import LookingUp
from leverstep.faces.lines.picture_lines import PICTURE_PROMPT, PictureLines
from leverstep.faces.lines.verbs import Listening, Verb, help_of, understood
from leverstep.faces.terminal import Listen, Say
from leverstep.free_body.placing_words import is_for_picture
from leverstep.glossary.glossary import Glossary
from leverstep.glossary.term import GlossaryTerm
from leverstep.questions.choice_question import ChoiceQuestion, QuestionSort
from leverstep.statics.step import Step
from leverstep.working.cautions import CAUTION_SAID
from leverstep.working.page import found, line_name, posture_of

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

    Enter alone says again what is asked for.
    """

    ends_with = "Type stop to end here."
    meanwhile = frozenset({"problem", "givens", "term", "terms"})
    """What can be done while a picture is drawn, too."""

    def __init__(self, dialogue: WorkingDialogue, say: Say, listen: Listen) -> None:
        super().__init__(dialogue, say)
        self.listen: Listen = lambda prompt: listen(read_out(prompt))
        self.is_left = False
        self.asking = Asking(self.say)
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
        if question is not None:
            return self.asking.of_question(question, self.dialogue.question_place)
        step = self._step()
        if step is None:
            return ""
        return self._ask(step)

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
            self.say(way_to_answer(question))
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

    def _ask(self, step: Step) -> str:
        """Ask for a line, or for what is to be drawn before it; return the prompt."""
        if self.dialogue.picture is not None:
            form = f" {self._drawing.form} Type forces to hear them."
            self.asking.say_new(self._picture().asks, form)
            return PICTURE_PROMPT
        if self.dialogue.asked is not None:
            posture = posture_of(self.working.question, step)
            self.asking.of_line(self.dialogue.asked, step, posture)
        return "Line: " if self.dialogue.is_free else f"{line_name(step)}: "

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
        self.asking.again(with_answers=True)
        if self.dialogue.question is not None:
            return
        words = ", ".join(verb.name for verb in self.offered if verb.short)
        self.say(f"Type the line, or a word: {words}.")

    def do_help(self, _: str) -> None:
        """Say what can be typed; at a question, how it is answered."""
        question = self.dialogue.question
        if question is not None:
            beside = help_of(verb for verb in self.offered if verb.without_line)
            for line in (way_to_answer(question), *beside, CAUTION_SAID):
                self.say(line)
            return
        forms = (f"{', '.join(forms)}: {shows}." for forms, shows in FORMS)
        free = ways_to_write(self.working) if self.working.guidance.free else ()
        for line in (*forms, *NOTES, *help_of(self.offered), *free, CAUTION_SAID):
            self.say(line)

    def do_hint(self, name: str) -> None:
        """Give the next hint of the line at hand, or of the one named."""
        key = line_meant(self, name)
        if key:
            self.act(lambda: self.answering.hint(key))

    def do_hints(self, name: str) -> None:
        """Say the hints of a line again."""
        if key := line_meant(self, name):
            self.read_hints(key)

    def do_missing(self, _: str) -> None:
        """Tell what is missing."""
        self.read_missing()

    def do_lines(self, _: str) -> None:
        """Read the working so far."""
        self.read_lines()

    def do_problem(self, _: str) -> None:
        """Read the problem again."""
        self.asking.again()
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
        key = line_reached(self, name) if name else self.dialogue.before
        if key is None:
            if not name:
                self.tell(self.dialogue.go(-1))
            return
        if key:
            self.read_opened(key)
        if closed := self.dialogue.closed_told(key):
            self.say(closed)
        else:
            self.dialogue.go_to(key)

    def _end(self) -> None:
        """Say how the working went, and what was found."""
        end = ending(self.dialogue.bench)
        self.say("")
        for line in (end.headline, *end.results, CAUTION_SAID, end.account):
            self.say(line)
