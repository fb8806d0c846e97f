"""The words that a practice page says by itself."""

from reviewer.terms.messages import noted
from reviewer.words import Saying

_WORDS = {
    "add": noted("Take it"),
    "amount": noted("Amount"),
    "answered": noted("called"),
    "back": noted("One picture back"),
    "begin": noted("Begin: it plays once"),
    "begins_once": noted(
        "It plays once at full speed and cannot be stopped, as on the day. You may call meanwhile."
    ),
    "by_kind": noted("Deductions by kind"),
    "clear": noted("Forget my calls"),
    "cleared": noted("Your calls are forgotten."),
    "clips": noted("The clips"),
    "compared": noted("Your calls beside the key"),
    "count": noted("How often"),
    "credit": noted("What is credited"),
    "done": noted("That is my call"),
    "execution": noted("Execution"),
    "fault": noted("Fault"),
    "fixed": noted("These calls were held against the key and stay as they are."),
    "free": noted("Practise: stop, step and repeat as you like"),
    "hard": noted("harder than all judges"),
    "is_open": noted("The key is open. Clips you have called show it beside your calls."),
    "judges_took": noted("The judges took"),
    "kept": noted("Kept. The key stands beside it."),
    "kept_locked": noted("Kept. The key is still locked."),
    "keys": noted("Key"),
    "locked_tally": noted("The key is locked, so nothing is counted yet."),
    "look_first": noted("Look at the clip first."),
    "looked": noted("You have looked at this clip; in a test it does not play again."),
    "met": noted("met"),
    "minded": noted("To be minded"),
    "missing": noted("missing"),
    "no_crypto": noted("This browser cannot open the key from a file. Open the page in another browser."),
    "no_script": noted("This page needs scripts; it runs them from this file alone and reaches no network."),
    "not_answered": noted("not called yet"),
    "not_kept": noted(
        "This browser keeps nothing for a page from a file: save the tally before you close it."
    ),
    "of": noted("{some} of {all}"),
    "on": noted("One picture on"),
    "on_what": noted("Too hard and too soft, on what"),
    "open_key": noted("Open the key"),
    "opening": noted("Opening…"),
    "over": noted("Over. Call what you saw."),
    "pass_phrase": noted("Pass phrase"),
    "play": noted("Play or stop"),
    "range": noted("{least} to {most}"),
    "reasons": noted("Why"),
    "remove": noted("Take it back"),
    "requirements": noted("Requirements that are met"),
    "requirements_right": noted("Requirements called as in the key"),
    "save": noted("Save my tally as a file"),
    "seen_at": noted("Seen at {seconds} s."),
    "soft": noted("softer than all judges"),
    "speed": noted("Speed of playing"),
    "tally": noted("Tally"),
    "tally_stays": noted("It stays on this machine, in this browser."),
    "test": noted("Test: each clip once at full speed, without a pause"),
    "the_key": noted("The key"),
    "too_hard": noted("Too hard"),
    "too_soft": noted("Too soft"),
    "took": noted("Judge {judge} took {points}: {why} {says}"),
    "total": noted("Deductions in all: {points}"),
    "value_parts": noted("Value parts"),
    "value_parts_right": noted("Value parts called as in the key"),
    "way": noted("How do you want to look?"),
    "what": noted("What"),
    "within": noted("within what the judges took"),
    "within_range": noted("Within range"),
    "wrong": noted("This pass phrase does not open the key."),
    "yours": noted("Your call"),
}


def practice_words(say: Saying) -> dict[str, str]:
    """All of them in a language, by name; ``{…}`` is filled in by the page."""
    return {name: say.word(said) for name, said in _WORDS.items()}
