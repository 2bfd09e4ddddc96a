"""Why an entry is not judged, or what to note of it, in words: a sentence for each code."""

from __future__ import annotations

from leverstep.course.phrases import either, listed
from leverstep.course.plain_text import plain
from leverstep.course.symbols import sign_of
from leverstep.entry.tree import Reason

WORDS = {
    # What can't be read at all.
    "nothing": "nothing was typed.",
    "too_long": "a line may have at most {most} characters.",
    "character": "this character has no meaning here.",
    "too_many_parts": "the line has too many parts; write it in smaller steps.",
    "too_many_digits": "a number may have at most {most} digits.",
    "power_of_ten": "a power of ten may be at most {most}.",
    "comma": "is this {whole}{decimals} or {whole}.{decimals}?",
    "marks_of_number": "the commas and points of this number can't be read.",
    "empty_side": "one side of the equals sign is empty.",
    "number_not_expected": "the number {found} was not expected here.",
    "sign_not_expected": "{found} was not expected here.",
    "unknown_word": "{found} is not a symbol or unit of this problem.",
    "class_alone": "{found} is a class of lever, and this line asks for something else.",
    "unit_alone": "{found} is a unit here, and needs a number before it.",
    "which_symbol": "{found} may be {choices} here; write which one it is.",
    "too_deep": "the brackets are nested too deeply.",
    "signs_in_a_row": "there are too many signs in a row.",
    "no_whole_power": "a power needs a whole number.",
    "power": "a power may be at most {most}.",
    "power_of_power": "a power of a power can't be read.",
    "stops_early": "the line stops too early.",
    "second_bar": "the second bar is missing.",
    "function_of_what": "{function} of what?",
    "closing_bracket": "a closing bracket is missing.",
    "two_numbers": "two numbers are side by side.",
    "number_after_unit": "a number can't follow a unit.",
    "unit_power": "a unit may have a whole power from 1 to 9.",
    "unit_meant": "{found} is not a unit here; did you mean {meant}?",
    "unknown_unit": "{found} is not a unit of this course.",
    "in_metres": "{found} says how long it is, but lengths here are multiples of {named}.",
    # What has no value, or not one of the kind that is asked for.
    "not_finite": "what you typed has no finite value.",
    "not_sensible": "what you typed has no sensible value.",
    "no_value_yet": "{name} has no value yet.",
    "units_of_sum": "the terms of a sum must have the same unit: write it after each number.",
    "root_of_unit": "the square root of this unit has no meaning.",
    "needs_angle": "{function} needs an angle.",
    "needs_number": "{function} needs a number without a unit.",
    "beyond_one": "{function} of a number above 1 is no angle. Is the ratio upside down?",
    "no_unit": "the unit is missing: {wanted} is asked for here.",
    "unit_does_not_fit": "this unit does not fit: {wanted} is asked for here.",
    "other_dimension": "{quantity} is not {wanted}, and {wanted} is asked for here.",
    "comes_to_mass": "what you typed comes to a mass; end a line that is a force with N.",
    "mass_times_length": "a mass times a length is no moment: the force, mass times g, is needed.",
    "no_class": "the class of a lever is first, second or third.",
    "same_equation": "this says the same as your other equation; write the other direction.",
    "no_effect": "the answer is compression or tension.",
    "no_direction": "a direction is up or down, left or right, or one of each, or none.",
    "way_of_size": "only the size is asked for here; leave out which way it points.",
    "way_of_axis": "this component does not lie along that way.",
    "not_inside": "the line of gravity falls inside or outside the base of support.",
    "no_hold": "the answer is one of two words: holds or slips.",
    "too_many_words": "a word or two is enough here.",
    "too_coarse": "give at least {figures} significant figures, so that it can be judged.",
    # What is no line of the problem, or not this one.
    "one_equals_sign": "the moment equation needs one equals sign.",
    "forces_need_equals_sign": (
        "an equation of forces needs one equals sign, such as = 0 at its end."
    ),
    "other_direction": "this line asks for the equation in the other direction.",
    "too_many_equals_signs": "use one equals sign, unless a symbol stands alone before the first.",
    "another_line": "{name} is another line; this one is {here}.",
    "sides_differ": "the two sides of the equals sign are not equal.",
    "begin_with_symbol": "begin with the symbol of the quantity, then =.",
    "is_given": "{name} is given, so it needs no line.",
    "needs_no_line": "{name} needs no line of its own.",
    "no_symbol": "this equation has no symbol in it, so it says nothing about this problem.",
    "several_unknown": "{names} have no value yet; write all but one of their lines first.",
    "not_solved": "what {name} comes to can't be found from this equation.",
    "on_both_sides": "{name} is on both sides.",
    "may_be": "is this {name}, {what}? Write {name} = before it, and it is judged.",
    "on_other_body": (
        "{name} is {what} here, and this has the other sign; give the force on the other body a "
        "symbol of its own."
    ),
    "letters_untold": "write first what {names} stand for, each on a line of its own.",
    "symbols_without_value": "some symbols here have no value yet; write their lines first.",
    "numbers_not_seen": (
        "where its numbers come from can't be seen; write each force with its own arm."
    ),
    "numbers_from_where": (
        "the equation holds, but not as a line of this problem: where do its numbers come from?"
    ),
    "not_matched": "what you typed can't be matched to a line of this problem.",
    "nothing_to_check": "there is nothing to check in this line.",
    "sense_said": "{sense} counts as positive from here on.",
    "no_line": "what you typed is neither the moment equation nor another line of this problem.",
    "filled": "{name} is filled in for you.",
    "comes_later": "{name} is asked for after the line at hand.",
    "tries_used": "all tries for this line are used up.",
    "zero_follows": "your value is zero only because an earlier line is zero; look there first.",
    "other_definition": "that is {found}; here mechanical advantage means {meant}.",
    "other_way": "the size of {name} is right, and it does not point that way.",
    "bearing_off": "a bearing is measured anticlockwise from the right, all the way round.",
    "sum_of_all": (
        "with the moment that is to be found the sum is zero; add up the known ones here."
    ),
    # What is the matter with a moment equation.
    "divides_by_zero": "what you typed divides by zero, so it has no value.",
    "holds_in_numbers": (
        "the equation holds with these numbers; write each force times its own arm, in symbols."
    ),
    "forces_hold_in_numbers": (
        "the equation holds with these numbers, but it is not the sum of the forces in one "
        "direction; write each force with its own sine or cosine."
    ),
    "holds_for_any_force": (
        "the equation holds whatever the forces are; the moments of all forces must add up to zero."
    ),
    "no_force": "this equation has no force of this problem in it; write it in symbols.",
    "along_other_axis": "this is the equation along the other axis.",
    "acts_at_axis": "{name} acts at the axis, so it has no place in the moment equation.",
    "not_in_moments": "{name} has no place in the moment equation.",
    "term": "the term with {names} is not that force times its own arm.",
    "term_of_balance": "the term with {names} is not that force's component in this direction.",
    "number_without_force": (
        "a number in the equation is neither the size of a force here nor its component in this "
        "direction."
    ),
    "term_without_force": (
        "the equation has a term that belongs to no force, or a force that is squared."
    ),
    # What to note of a line that is judged.
    "fits_in_unit": "the number fits in {unit}, but the unit written is {found}.",
    "implied": "from this, {name} is {value}.",
    "as_size": "that is the size of {name}; in this problem's sense of rotation {name} is {value}.",
    "names_taken": "{one} is taken as {name}, and {other} as {here}.",
    "sense_kept": "you take {sense} as positive, so keep to it; the problem takes the other way.",
    "in_symbols": "the formula is right; its line is done once the numbers are put in.",
    "joule": "a moment is written in N·m; the joule is kept for energy.",
    "converted": "{in_unit} that is {value}.",
    # What can't be worked out in the margin.
    "equals_sign": "an equals sign keeps a result here, as in a = 2*3.",
    "name_in_use": "{found} means something else already; keep the result as a, b or c.",
    "too_many_kept": "{most} results are kept already; take one of their names again.",
}
"""The sentence of each code, after a colon; what is put in stands in braces."""

_QUANTITIES = {
    "force": "a force",
    "moment": "a moment",
    "length": "a length",
    "mass": "a mass",
    "angle": "an angle",
    "number": "a number without a unit",
    "mass moment": "a mass times a distance",
    "percentage": "a percentage, with % behind it,",
    "stress": "a stress",
    "power": "a power",
    "speed": "a speed",
}


def reason_words(reason: Reason | None) -> str:
    """Return a reason as a sentence that follows a colon, "" for none.

    Symbols are put in as they are shown, quantities as a student calls them.
    """
    if reason is None:
        return ""
    named = {key: _put_in(key, text) for key, text in reason.named}
    return WORDS[reason.code].format_map(named)


def at_place(text: str, place: int | None) -> str:
    """Return which character of a text is spoken of and what stands there; "" for none."""
    if place is None:
        return ""
    there = text[place:]
    word = plain("" if there[:1].isspace() else there.split(maxsplit=1)[0][:12]) if there else ""
    quoted = f', "{word}"' if word else ""
    return f" (at character {place + 1}{quoted})"


def _put_in(key: str, text: str) -> str:
    match key:
        case "name" | "here":
            return sign_of(text)
        case "names":
            return listed([sign_of(name) for name in text.split()])
        case "choices":
            return either([sign_of(name) for name in text.split()])
        case "quantity" | "wanted":
            return _QUANTITIES[text]
        case "unit":
            return text or "a bare number"
        case "in_unit":
            return f"in {text}" if text else "as a bare number"
    return text
