"""Keys as people write them, read into one form: ``Ctrl+Shift+Z``."""

from reviewer.terms.messages import message

MODIFIERS = ("Meta", "Ctrl", "Alt", "Shift")
"""In the order in which the portable form writes them."""
_NAMED = (
    *("Left", "Right", "Up", "Down", "Home", "End", "PgUp", "PgDown"),
    *("Space", "Return", "Tab", "Backspace", "Del", "Ins", "Esc"),
    *(f"F{number}" for number in range(1, 13)),
)
_ALSO = {
    "enter": "Return",
    "delete": "Del",
    "insert": "Ins",
    "escape": "Esc",
    "pageup": "PgUp",
    "pagedown": "PgDown",
    "control": "Ctrl",
}
_KNOWN = {name.lower(): name for name in (*MODIFIERS, *_NAMED)} | _ALSO


def read_sequence(typed: str) -> str:
    """One key with its modifiers in the portable form; ValueError where it is none."""
    held, key = _parted(typed)
    modifiers = [_KNOWN.get(word.lower(), word) for word in held.split("+") if held]
    named = _KNOWN.get(key.lower(), key.upper() if len(key) == 1 else "")
    sound = (
        set(modifiers) <= set(MODIFIERS)
        and len(set(modifiers)) == len(modifiers)
        and named not in ("", *MODIFIERS)
        and named.isprintable()
        and not named.isspace()
    )
    if not sound:
        raise ValueError(message("{typed} is no key such as D, Shift+Left, Ctrl+D or F5", typed=repr(typed)))
    return "+".join([*(one for one in MODIFIERS if one in modifiers), named])


def read_sequences(typed: str) -> tuple[str, ...]:
    """Keys side by side, each once; ValueError where one is none."""
    return tuple(dict.fromkeys(read_sequence(one) for one in typed.split()))


def held_down(sequence: str) -> bool:
    """Whether a key means the same while words are typed: it is held with Ctrl, Alt or Meta, or an F key."""
    held, key = _parted(sequence)
    return not {"Meta", "Ctrl", "Alt"}.isdisjoint(held.split("+")) or (len(key) > 1 and key[0] == "F")


def types_a_word(sequence: str) -> bool:
    """Whether a key writes something that a call may hold: a letter, a digit, a sign of numbers, a space."""
    key = sequence.removeprefix("Shift+")
    return key == "Space" or (len(key) == 1 and (key.isalnum() or key in "-.,:;@+"))


def _parted(sequence: str) -> tuple[str, str]:
    """What is held down, and the key; the key may itself be a plus."""
    if sequence.endswith("+"):
        return sequence[:-1].removesuffix("+"), "+"
    held, _, key = sequence.rpartition("+")
    return held, key
