"""Sentences of the clauses on casts, faults, the panel and the score: one function a kind of clause."""

from reviewer.rules.words import OFTEN, Data, Names, Words, amount, counted_from, edge_words, joined
from reviewer.terms.bodylines import LOWEST


def cast_line(said: Data, names: Names) -> Words:
    """Which line is measured."""
    line = said["line"]
    open_to = said.get("shoulders-open-to")
    if line == "lowest":
        limit = f" (a shoulder angle up to {open_to} counts as open)" if open_to else ""
        shoulders = f"from the shoulders where there is a shoulder angle{limit}"
        return [f"Measured is the line from the hands, or {shoulders}, through the lowest part of the body."]
    if line in LOWEST:
        return [f"Measured is the line from the {line.split('-')[0]}s through the lowest part of the body."]
    return [f"Measured is the line {' to '.join(line.split('-'))}, against the horizontal."]


def cast_limit(said: Data, names: Names) -> Words:
    """The limit of the cast."""
    return [
        f"Reached at {said['at-least']} or higher (0 is level, negative below).",
        *edge_words(said, "The limit"),
    ]


def cast_tolerance(said: Data, names: Names) -> Words:
    """What lies below the limit and still earns."""
    scope = "once an exercise, on the best cast, where no counting cast reaches the limit"
    if said.get("scope") == "element":
        scope = "on each cast within it"
    words = [
        f"Up to {said['below-limit']} below the limit a cast earns all.",
        *edge_words(said, "The lower edge"),
        f"It costs {said['takes']}, {scope}, in each judge's score.",
    ]
    if said.get("not-on-top-of-it"):
        where = "any such cast" if said.get("on") == "any cast" else "the cast charged"
        words.append(f"Not taken on top of it, on {where}: {names.of('faults', said['not-on-top-of-it'])}.")
    return words


def guard_band(said: Data, names: Names) -> Words:
    """When a measured angle decides."""
    return [f"A measured angle decides when it is clear of a limit by {said['clear-by']}."]


def fault(said: Data, names: Names) -> Words:
    """What a fault costs."""
    full = f" All of it from a bend of {said['full-from']} on." if "full-from" in said else ""
    return [f"{amount(said)} points, {OFTEN.get(said['scope'], said['scope'])}.{full}"]


def cap(said: Data, names: Names) -> Words:
    """What faults cost together at most."""
    return [f"Together at most {said['at-most']}: {names.of('faults', said['faults'])}."]


def swallow(said: Data, names: Names) -> Words:
    """What a fall leaves nothing of."""
    role, by = names.of("roles", said["role"]), names.of("faults", said["by"])
    words = [f"{by} on the {role} leaves nothing of: {names.of('faults', said['faults'])}."]
    if said.get("unless"):
        words.append(f"Not where it is marked {names.of('conditions', said['unless'], 'or')}.")
    return words


def one_error(said: Data, names: Names) -> Words:
    """Faults that are one error."""
    faults = names.of("faults", said["faults"])
    return [f"{faults} on one element are one error under several names: warned of, no points."]


def time_limit(said: Data, names: Names) -> Words:
    """The time to go on."""
    after = names.of("faults", said["after"], "or")
    since = counted_from(said)
    return [f"{said['within']} to go on{since}, after: {after}.", *edge_words(said, "The limit")]


def fact(said: Data, names: Names) -> Words:
    """What a fact costs."""
    beyond = f" when more than {said['more-than']}" if "more-than" in said else ""
    return [f"{said['takes']} from the average{beyond}."]


def panel(said: Data, names: Names) -> Words:
    """How an average comes out."""
    ways = {"truncate": "cut off", "half up": "rounded half up"}
    words = [f"An average that does not come out is {ways.get(said['rounding'])} at thousandths."]
    if "drop-extremes-from" in said:
        words.append(f"From {said['drop-extremes-from']} on the highest and the lowest are left out.")
    return words


def panel_size(said: Data, names: Names) -> Words:
    """Which scores of a panel count."""
    count = said["counting"]
    ways = {"all": "the average of all scores", "middle 1 score": "the middle score alone"}
    judges = said["judges"].replace("1 judges", "1 judge")
    return [f"{judges}: {ways.get(count.removesuffix('s'), f'the average of the {count}')}."]


def spread(said: Data, names: Names) -> Words:
    """How far scores may lie apart."""
    return [f"From an average of {said['average-from']}: at most {said['allowed']} apart."]


def reference(said: Data, names: Names) -> Words:
    """When a reference score counts."""
    return [
        f"From a reference score of {said['reference-from']}: when the panel's average lies more than "
        f"{said['allowed']} from it, the mean of both counts."
    ]


def courtesy(said: Data, names: Names) -> Words:
    """The least score."""
    against = said.get("held-against", "final score")
    return [f"No {against} is lower than {said['at-least']}."]


def ties(said: Data, names: Names) -> Words:
    """What decides between equal totals."""
    higher = ", then the higher ".join(said["higher"])
    return [f"Equal totals are ranked by the higher {higher}; all equal, they share the rank."]


def inquiry(said: Data, names: Names) -> Words:
    """What is settled about inquiries."""
    asked: dict[str, str] = {
        "asked-by": f"Asked by: {joined(said.get('asked-by', ()), 'or')}.",
        "about": f"About: {joined(said.get('about', ()))}.",
        "within": f"Within {said.get('within')}{counted_from(said)}.",
        "recording": f"A recording {said.get('recording')}.",
        "result": f"The score {joined(said.get('result', ()), 'or')}.",
        "fee": f"Fee: {said.get('fee')}.",
    }
    return [*(asked[field] for field in asked if field in said), *edge_words(said, "The limit")]


def note(said: Data, names: Names) -> Words:
    """What is only noted."""
    return [f"{said['says'].rstrip('.')}. (No value is scored.)"]
