"""Terms looked up in plain lines, at the problems and at a working alike."""

from __future__ import annotations

from leverstep.dialogue.terms_told import term_looked_up, terms_listed
from leverstep.faces.terminal import Say
from leverstep.glossary.glossary import Glossary
from leverstep.glossary.term import GlossaryTerm


class LookingUp:
    """Says what a term means. Who listens tells the glossary, and the terms of the line at hand."""

    say: Say

    @property
    def glossary(self) -> Glossary:
        """Return the terms there are."""
        raise NotImplementedError

    @property
    def terms_at_hand(self) -> list[GlossaryTerm]:
        """Return the terms of the line at hand; none where there is no line."""
        return []

    def do_term(self, typed: str) -> None:
        """Say the term that is named, or that of the line at hand."""
        for line in term_looked_up(self.glossary, typed, self.terms_at_hand):
            self.say(line)

    def do_terms(self, _: str) -> None:
        """Name all terms."""
        self.say(terms_listed(self.glossary))
