"""A rule-book file to a checked `RuleBook`, or every problem it has, each with file and line."""

import json
from hashlib import sha256
from pathlib import Path

from reviewer.rules.clauses import NEEDED, ONCE, READERS, Gathered
from reviewer.rules.record import Record
from reviewer.rules.references import check_references
from reviewer.rules.tree import MOST_BYTES, Fields, Items, Text, Tree, read_tree
from reviewer.terms.exact import Degrees
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.terms.rulebook import CastRule, Clause, Named, RuleBook

_FORMAT = "reviewer.rule-book/1"
_COMMON = ("id", "title", "rule", "since", "source")


class RuleBookError(ReviewerError):
    """A rule-book file that cannot be used; carries all of its problems."""


def load(path: Path) -> RuleBook:
    """The checked book of a file; RuleBookError with every problem otherwise."""
    try:
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
        return parse(content.decode("utf-8"), str(path))
    except OSError as error:
        reason = error.strerror or "it cannot be opened"
        raise RuleBookError(
            Problem("unreadable", str(path), f"The file cannot be read: {reason}.", "Name a rule-book file.")
        ) from None
    except UnicodeDecodeError:
        raise RuleBookError(
            Problem("not-text", str(path), "The file is not UTF-8 text.", "Save it as UTF-8.")
        ) from None


def check(path: Path) -> tuple[Problem, ...]:
    """Every problem of a file; empty when it is sound."""
    try:
        load(path)
    except RuleBookError as error:
        return error.problems
    return ()


def parse(text: str, name: str) -> RuleBook:
    """The checked book of a file's text, `name` standing for the file in problems; else RuleBookError."""
    problems: list[Problem] = []
    tree = read_tree(text, name, problems)
    if tree is not None and not isinstance(tree, Fields):
        problems.append(Problem("no-fields", f"{name}:1", "This is no rule book.", "Begin with 'format:'."))
    if not isinstance(tree, Fields):
        raise RuleBookError(problems)
    book = _book(Record(name, tree, problems), text)
    if problems or book is None:
        raise RuleBookError(sorted(problems, key=_line))
    return book


def _line(problem: Problem) -> int:
    line = problem.where.rpartition(":")[2]
    return int(line) if line.isdigit() else 0


def _book(record: Record, text: str) -> RuleBook | None:
    record.choice("format", (_FORMAT,))
    identity = {key: record.text(key) for key in ("title", "division", "season")}
    gathered = Gathered()
    code, cautions = record.code("id"), record.texts("cautions")
    roles = tuple(Named(code, name) for code, name in record.names("roles"))
    conditions = tuple(Named(code, name) for code, name in record.names("conditions"))
    clauses = tuple(_clause(one, gathered) for one in record.records("clauses"))
    record.finish()
    _check_counts(record, gathered)
    check_references(record, clauses, roles, conditions, gathered)
    if record.problems:
        return None
    return RuleBook(
        id=code,
        sha256=sha256(text.encode()).hexdigest(),
        text=text,
        cautions=cautions,
        roles=roles,
        conditions=conditions,
        elements=gathered.all("element"),
        faults=gathered.all("fault"),
        facts=gathered.all("fact"),
        clauses=clauses,
        start=gathered.one("start"),
        value_parts=gathered.one("value parts"),
        few_parts=gathered.one("few parts"),
        requirements=gathered.all("requirement"),
        restricted=gathered.one("restricted"),
        withheld=gathered.all("withheld"),
        one_element=gathered.all("one element"),
        part_of=gathered.all("part of"),
        no_role=gathered.all("no role"),
        swallows=gathered.all("swallow"),
        caps=gathered.all("cap"),
        cast=_cast(gathered),
        panel=gathered.one("panel"),
        spreads=gathered.all("spread"),
        courtesy=gathered.one("courtesy"),
        **identity,
    )


def _clause(record: Record, gathered: Gathered) -> Clause:
    rule = record.choice("rule", tuple(READERS))
    clause = record.code("id")
    title, since, source = record.text("title"), record.day("since"), record.source()
    known = record.fields.values.get("rule")
    if isinstance(known, Text) and known.value.strip() in READERS:
        READERS[rule](record, clause, gathered)
        record.finish()
    plain = _plain(record.fields)
    return Clause(
        id=clause,
        title=title,
        rule=rule,
        value=_words(record.fields),
        since=since,
        source=source,
        line=record.fields.line,
        data=json.dumps(plain, sort_keys=True, ensure_ascii=False, separators=(",", ":")),
    )


def _check_counts(record: Record, gathered: Gathered) -> None:
    for kind in NEEDED:
        if not gathered.all(kind):
            record.wrong(
                "missing-rule", f"No clause states the rule {kind!r}.", "Add one.", record.line("clauses")
            )
    for kind in ONCE:
        if len(gathered.all(kind)) > 1:
            second = gathered.all(kind)[1].clause
            what = f"The rule {kind!r} is stated again by {second!r}: two answers to one question."
            record.wrong("stated-twice", what, "Keep one of the two.", record.line("clauses"))


def _cast(gathered: Gathered) -> CastRule:
    limit, tolerance = gathered.one("cast limit"), gathered.one("cast tolerance")
    return CastRule(
        line=gathered.one("cast line").line,
        at_least=limit.angle,
        tolerance=Degrees(tolerance.angle.thousandths),
        guard_per_mille=gathered.one("guard band").number,
        points=tolerance.points,
        spared=tolerance.faults,
        limit_clause=limit.clause,
        clause=tolerance.clause,
    )


def _plain(tree: Tree) -> object:
    if isinstance(tree, Text):
        return tree.value
    if isinstance(tree, Items):
        return [_plain(item) for item in tree.values]
    return {key: _plain(value) for key, value in tree.values.items()}


def _words(fields: Fields) -> str:
    """What a clause says beyond its common fields, for people: ``takes 0.500 points; role mount``."""
    said = (f"{key} {_said(value)}" for key, value in fields.values.items() if key not in _COMMON)
    return "; ".join(said)


def _said(tree: Tree) -> str:
    if isinstance(tree, Text):
        return tree.value
    if isinstance(tree, Items):
        return ", ".join(_said(item) for item in tree.values)
    return _said(tree.values["code"]) if "code" in tree.values else _words(tree)
