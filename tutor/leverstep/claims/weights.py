"""How much each sign speaks for a value's being of a quantity.

They are added up, and the quantity with most is taken. They were set by hand on pages of student
working; a whole sort or force that is named outweighs any letter.
"""

from __future__ import annotations

# ---- the words before a value

SORT_NAMED = 1.5
"""Its sort is named: `moment`."""
SORT_RELATED = 0.5
"""A sort is named that people use for it: `distance` for an arm."""
OTHER_SORT = -0.5
"""Another sort is named."""
FORCE_NAMED = 2.0
"""Its force is named by a word that no other force of the problem has."""
FORCE_NAMED_VAGUELY = 0.7
"""Its force is named by a word that several have."""
ONE_OF_ITS_FORCES = 0.3
"""One of several forces that it is about is named."""
OTHER_FORCE = -1.0
"""A force is named that it is not about."""
WHOLE_NAMED = 1.5
"""A total is named, and it is a sum over all forces."""
NET_NAMED = 1.0
"""A net moment is named, and it is that of the muscles."""
NOT_A_WHOLE = -0.7
"""A total is named, and it is none."""
AXIS_NOT_NAMED = -0.3
"""It is a component, and nothing says along which axis."""
DIRECTION_NAMED = 0.7
"""A direction along its axis is named: `up`. As much speaks against a component of the other."""
AXIS_NAMED = 1.0
"""Its axis is named: `vertical`. As much speaks against a component of the other."""

# ---- the symbol before a value

SYMBOL_OF_RATIO = 2.0
"""It is written by the sign of the trade for it: MA, AR."""
SYMBOL_OF_OTHER_RATIO = -1.0
"""Such a sign is written, and it is no ratio."""
LETTER_COMMON = 1.0
"""Its sort is what the letter mostly stands for."""
LETTER_RARER = -0.25
"""Its sort is the next that the letter stands for; once more for each before it."""
OTHER_LETTER = -0.8
"""The letter stands for other sorts."""
SUM_BY_SYMBOL = -0.3
"""It is a sum, which symbols seldom stand for."""
INDEX_OF_AXIS = 0.8
"""The index is that of its axis: `F_y`."""
INDEX_OF_OTHER_AXIS = -2.0
"""The index is that of the other axis."""
INDEX_WITHOUT_AXIS = -1.2
"""The index is that of an axis, and it has none."""
COMPONENT_WITHOUT_INDEX = -0.2
"""It is a component, and the symbol has no index."""
PLAIN_F = 0.5
"""F alone is mostly the effort."""
PLAIN_M = 0.3
"""M alone is mostly a sum over all forces."""
INDEX_OF_WHOLE = 0.8
"""The index is that of a total, and it is one."""
INDEX_NOT_ITS_WHOLE = -0.3
"""The index is that of a total, and it is none."""
INDEX_OWN = 0.8
"""The index is that of its force in the problem."""
INDEX_BY_NAME = 0.7
"""The index begins the name of its force: `bag`."""
INDEX_BY_LETTER = 0.4
"""The index is the first letter of the name of its force."""
INDEX_OF_EFFORT = 0.5
"""The index is one that people give to a muscle, and it is about the effort."""

# ---- a number with what it is worked out from

SYMBOL_KNOWN = 3.0
"""The symbol is known to stand for it."""
OTHER_SYMBOL = -1.2
"""The symbol is known to stand for another quantity."""
FIT_LEAST, FIT_MOST = -2.0, 3.0
"""Between these the fit of its label counts."""
ALL_NUMBERS_ITS_OWN = 1.2
"""Two numbers or more stand in the arithmetic, and it is worked out from all of them."""
NUMBERS_ITS_OWN = 0.6
"""It is worked out from the numbers of the arithmetic; less where from some alone."""
NUMBERS_STRANGE = -0.2
"""There is arithmetic; what it is made of must outweigh this."""
UNIT_WRITTEN = 0.4
"""A unit that goes with it is written."""
UNIT_OF_LINE = 1.5
"""It is a line for a value in another unit, and that is written. As much speaks against it else."""
LINE_OF_DERIVATION = 0.3
"""It has a line in the derivation."""
LINE_ASKED = 0.1
"""That line is asked for."""
POSTURE_NAMED = 0.4
"""It is of the posture that the page speaks of."""
IS_SUM = -0.4
"""It is a sum, which is one of many."""
SUM_OF_SOME = -0.1
"""It is a sum over some forces; once for each of them."""
BARE_ANGLE = -1.0
"""It is an angle, and neither degrees nor a word or symbol say so."""
COMPONENT_UNTOLD = -1.3
"""It is a component of a force, and nothing says that one is meant."""
OTHER_POINT_UNTOLD = -1.0
"""It is about another point than the axis, and nothing says so."""
TO_COME = 0.3
"""It does not stand on the page yet."""
SAME_FORCE_AS_BEFORE = 0.2
"""Nothing is said, and the value before was of its force."""

# ---- what a wrong value is about

OWN_LINE = 1.19
"""The numbers are those of its own line; less where some are."""
SAME_SORT_AS_BEFORE = 0.15
"""It is of the sort of the line before: pages go through the forces in turn."""
TO_COME_IF_WRONG = 0.2
"""It does not stand on the page yet."""
UNIT_IF_WRONG = 0.3
"""A unit is written."""
ANGLE_TO_HORIZONTAL = 0.5
"""It is an angle to the horizontal, and that is named."""

# ---- what an unknown of an equation is

UNKNOWN_HAS_LINE = 0.4
"""It has a line in the derivation."""
UNKNOWN_KNOWN = 1.0
"""The symbol is known to stand for it."""
SYMBOL_HAS_LINE = 0.3
"""A symbol without a value mostly stands for what has a line in the derivation."""

# ---- how much is enough

ENOUGH_IF_RIGHT = 1.0
"""For a number that is the value of a quantity."""
ENOUGH_TO_FOLLOW = 0.8
"""For one that would be right had the numbers of its arithmetic been right: that tells much."""
ENOUGH_TO_REST_ON = 1.2
"""For one that is right with the student's own earlier values, which tells less."""
REWORKED = 0.8
"""It comes to the value of the quantity once the numbers of its arithmetic are put right."""
SAID_MUCH_BETTER = 1.5
"""What words fit another quantity by, more than the one that a number follows for, at most."""
ENOUGH_IF_WRONG = 1.5
"""For a wrong number, of which only label and arithmetic tell what it is about."""
ENOUGH_TO_KEEP = -0.5
"""For a number whose arithmetic holds nothing but numbers that are known."""
ENOUGH_TO_DEFINE = 1.3
"""For words behind a symbol: `B = weight of the bucket`."""
ENOUGH_TO_SAY = 3.0
"""For the words before a term, which alone tell what it is: its sort and its force."""
ENOUGH_TO_SEEK = 0.5
"""For an unknown that came out wrong."""
ENOUGH_TO_TRY = -0.3
"""For what an unknown may be, where its value decides."""
ENOUGH_TO_GUESS = 0.3
"""For what a further symbol of an equation may be, where the equation decides."""
ENOUGH_BY_SYMBOL = 0.8
"""For what a symbol alone tells, where nothing else decides."""
ENOUGH_BY_LINE = 0.7
"""For what a label tells, where the numbers are all such as it comes from."""
KNOWN_SHARE = 0.6
"""This share of an equation's numbers is to be known before it is called wrong."""
