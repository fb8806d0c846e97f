"""What is to be known of the language that a report or a letter is told in."""

from reviewer.words import Saying


def notice(say: Saying) -> str:
    """That nobody has read the language's words through; empty where somebody has."""
    if not say.machine_drafted:
        return ""
    return say(
        "The words of this report were put into this language by a machine and read through by nobody; "
        "where they leave a doubt, the English report counts. Rule books speak their own language."
    )
