"""Rule books that contradict themselves or lead nowhere: every problem at once, with line and remedy."""

import tracemalloc
from pathlib import Path
from time import perf_counter

import pytest

from reviewer import rules
from reviewer.terms.problems import Problem

SMALL = (Path(__file__).parent / "small-book.yaml").read_text(encoding="utf-8")
LINES = SMALL.count("\n")
HEAD = "title: T, since: 2026-08-01, source: from memory"
VALUES = "rule: element values, values: {A: 0.100 points}"
OPEN = "rule: restricted element, takes: 0.500 points, repeated: each time, left-open: "


def problems_of(text: str) -> tuple[Problem, ...]:
    with pytest.raises(rules.RuleBookError) as caught:
        rules.parse(text, "book.yaml")
    assert all(str(one.message) and str(one.remedy) for one in caught.value.problems)
    return caught.value.problems


def with_clauses(*clauses: str, head: str = HEAD) -> str:
    """The small book with clauses of its own behind it, one a line; they are called own-1, own-2, …"""
    added = (f"  - {{id: own-{n}, {head}, {said}}}\n" for n, said in enumerate(clauses, start=1))
    return SMALL + "".join(added)


def placed(*clauses: str, head: str = HEAD) -> list[tuple[str, int]]:
    """Code of each problem, and at which of the clauses it stands."""
    found = problems_of(with_clauses(*clauses, head=head))
    assert all(one.where.startswith("book.yaml:") for one in found)
    return [(one.code, int(one.where.rpartition(":")[2]) - LINES) for one in found]


LAST: dict[str, tuple[tuple[str, ...], list[str]]] = {
    "two faults swallow each other": (
        ("rule: swallow, by: fall, role: dismount, faults: [hop]",
         "rule: swallow, by: hop, role: dismount, faults: [fall]"), ["circle"]),
    "three faults swallow each other": (
        ("rule: swallow, by: fall, role: dismount, faults: [hop]",
         "rule: swallow, by: hop, role: mount, faults: [small-step]",
         "rule: swallow, by: small-step, role: dismount, faults: [fall]"), ["circle"]),
    "a fault swallows itself": (("rule: swallow, by: fall, role: dismount, faults: [fall]",), ["circle"]),
    "elements are part of each other": (
        ("rule: part of, elements: [giant], into: [leg-cut]",
         "rule: part of, elements: [leg-cut], into: [giant]"), ["circle"]),
    "a fault under two caps": (
        ("rule: cap, faults: [hop, small-step], at-most: 0.300 points",), ["stated-twice"]),
    "two rules for one size of panel": (
        ("rule: panel size, judges: 2 judges, counting: all",
         "rule: panel size, judges: 2 judges, counting: middle 2 scores"), ["stated-twice"]),
    "two spread bands of one average": (
        ("rule: spread, average-from: 9.5 points, allowed: 0.200 points",
         "rule: spread, average-from: 9.500 points, allowed: 0.300 points"), ["stated-twice"]),
    "two reference bands of one score": (
        ("rule: reference, reference-from: 9.600 points, allowed: 0.050 points",
         "rule: reference, reference-from: 9.6 points, allowed: 0.100 points"), ["stated-twice"]),
    "two prices of a short routine": (
        ("rule: few value parts, fewer-than: 3 value parts, counting: credited, takes: 2.000 points",
         "rule: few value parts, fewer-than: 3 value parts, counting: performed, takes: 1.000 points"),
        ["stated-twice"]),
    "nothing for nobody in a role": (
        ("rule: no role, role: dismount, statuses: [unlisted], when-none: no, takes: 0.300 points",),
        ["contradiction"]),
    "nobody in a role twice": (
        ("rule: no role, role: dismount, statuses: [unlisted], when-none: yes, takes: 0.300 points",
         "rule: no role, role: dismount, statuses: [restricted], when-none: yes, takes: 0.300 points"),
        ["stated-twice"]),
    "one status in a role twice": (
        ("rule: no role, role: dismount, statuses: [unlisted], when-none: yes, takes: 0.300 points",
         "rule: no role, role: dismount, statuses: [unlisted], when-none: no, takes: 0.500 points"),
        ["stated-twice"]),
    "a requirement that nothing fulfils": (
        ("rule: requirement, requirement: circle, name: C, takes: 0.500 points",), ["contradiction"]),
    "a requirement met in two ways": (
        ("rule: requirement, requirement: circle, name: C, role: mount, condition: touched-floor, "
         "takes: 0.500 points",), ["test"]),
    "a requirement that takes and gives": (
        ("rule: requirement, requirement: mount, name: M, role: mount, takes: 0.500 points, "
         "gives: 0.500 points",), ["amount"]),
    "credit withheld by two tests": (
        ("rule: withheld, reason: spotted, takes: [value part], condition: touched-floor, status: listed",),
        ["test"]),
    "one test that withholds twice": (
        ("rule: withheld, reason: spotted, takes: [value part], condition: touched-floor",
         "rule: withheld, reason: not-seen, takes: [requirement], condition: touched-floor"),
        ["stated-twice"]),
    "a status that nothing speaks of": (
        ("rule: elements, status: lower division, elements: [{code: x, name: X}]",), ["contradiction"]),
    "counting elements without values": (
        ("rule: counting elements, at-most: 8 elements, role: dismount, that-role: always counts",),
        ["contradiction"]),
    "values that fall": (
        ("rule: element values, values: {A: 0.200 points, B: 0.100 points}",), ["not-rising"]),
    "more middle scores than judges": (
        ("rule: panel size, judges: 4 judges, counting: middle 6 scores",), ["bad-value"]),
    "a middle that does not lie in the middle": (
        ("rule: panel size, judges: 4 judges, counting: middle 3 scores",), ["bad-value"]),
    "one error under one name": (("rule: one error, faults: [fall]",), ["bad-value"]),
    "two things in one inquiry clause": (
        ("rule: inquiry, asked-by: [coach], about: [start value]",), ["test"]),
    "amounts that fall": (
        ("rule: fault, fault: f, name: F, one-of: [0.300 points, 0.100 points], scope: each",),
        ["not-rising"]),
    "no amount of a list": (("rule: fault, fault: f, name: F, one-of: [], scope: each",), ["bad-value"]),
    "two times to go on after one fault": (
        ("rule: time limit, after: [fall], within: 45 seconds, edge: included, counted-from: standing",
         "rule: time limit, after: [hop, fall], within: 30 seconds, edge: included, counted-from: standing"),
        ["stated-twice"]),
    "two answers on recordings": (
        ("rule: inquiry, recording: may be used", "rule: inquiry, recording: may not be used"),
        ["stated-twice"]),
    "a circle in another reading": (
        ("rule: swallow, by: fall, role: dismount, faults: [hop]",
         "rule: swallow, by: hop, role: dismount, faults: [small-step], "
         "left-open: {question: Q?, faults: [fall]}"), ["circle"]),
    "a fault under two caps in another reading": (
        ("rule: cap, faults: [hop], at-most: 0.300 points, "
         "left-open: {question: Q?, faults: [hop, small-step]}",), ["stated-twice"]),
    "a size of panel twice in another reading": (
        ("rule: panel size, judges: 2 judges, counting: all",
         "rule: panel size, judges: 3 judges, counting: all, left-open: {question: Q?, judges: 2 judges}"),
        ["stated-twice"]),
    "a status in another reading that nothing speaks of": (
        ("rule: elements, status: listed, elements: [{code: x, name: X}], "
         "left-open: {question: Q?, status: lower division}",), ["contradiction"]),
    "an element that only one reading knows": (
        ("rule: elements, status: listed, elements: [{code: x, name: X}, {code: y, name: Y}], "
         "left-open: {question: Q?, elements: [{code: x, name: X}]}",), ["contradiction"]),
    "an element of another clause in another reading": (
        ("rule: elements, status: listed, elements: [{code: x, name: X}], "
         "left-open: {question: Q?, elements: [{code: giant, name: X}]}",), ["contradiction"]),
    "a fault that only one reading knows": (
        ("rule: fault, fault: f, name: F, amount: 0.100 points, scope: each, "
         "left-open: {question: Q?, fault: g}",), ["contradiction"]),
    "two kinds of amount": (
        ("rule: fault, fault: f, name: F, up-to: 0.300 points, amount: 0.100 points, scope: each",),
        ["amount"]),
}  # fmt: skip


@pytest.mark.parametrize(("clauses", "codes"), LAST.values(), ids=LAST)
def test_a_contradiction_is_told_at_the_clause_that_makes_it(
    clauses: tuple[str, ...], codes: list[str]
) -> None:
    assert placed(*clauses) == [(code, len(clauses)) for code in codes]


@pytest.mark.parametrize(
    "said", ["rule: start, value: 9.000 points", "rule: panel, rounding: half up"], ids=["start", "panel"]
)
def test_a_rule_that_stands_once_is_not_stated_twice(said: str) -> None:
    (problem,) = problems_of(with_clauses(said))
    assert problem.code == "stated-twice"
    assert "own-1" in str(problem.message)


@pytest.mark.parametrize(
    "rule", ["start", "cast line", "cast limit", "cast tolerance", "guard band", "panel"]
)
def test_a_rule_that_every_book_states_is_missed(rule: str) -> None:
    text = SMALL.replace(f"rule: {rule}\n", "rule: note\n").replace(f"rule: {rule},", "rule: note,")
    assert ("missing-rule", True) in [(one.code, repr(rule) in str(one.message)) for one in problems_of(text)]


UNKNOWN: dict[str, tuple[tuple[str, ...], list[str]]] = {
    "an element's role": (("rule: elements, status: listed, elements: [{code: x, name: X, may-be: [zz]}]",),
                          ["unknown-role"]),
    "an element's requirement": (
        ("rule: elements, status: listed, elements: [{code: x, name: X, fulfils: [zz]}]",),
        ["unknown-requirement"]),
    "an element's value": (
        (VALUES, "rule: elements, status: listed, elements: [{code: x, name: X, value: D}]"),
        ["unknown-value"]),
    "a requirement's role": (
        ("rule: requirement, requirement: r, name: R, role: zz, takes: 0.500 points",), ["unknown-role"]),
    "a requirement's condition": (
        ("rule: requirement, requirement: r, name: R, condition: zz, takes: 0.500 points",),
        ["unknown-condition"]),
    "roles that do not count": (
        ("rule: requirement, requirement: r, name: R, role: mount, not-in: [zz], takes: 0.500 points",),
        ["unknown-role"]),
    "elements that do not count": (
        ("rule: requirement, requirement: r, name: R, role: mount, not-elements: [zz], takes: 0.500 points",),
        ["unknown-element"]),
    "a condition that withholds": (
        ("rule: withheld, reason: spotted, takes: [value part], condition: zz",), ["unknown-condition"]),
    "a role of which parts are counted": (
        ("rule: withheld, reason: third-mount-part, takes: [value part], parts: 2 parts, role: zz",),
        ["unknown-role"]),
    "what is one element": (
        ("rule: one element, elements: [zz], at-most: 2 in a row, parted-by: yy",),
        ["unknown-element", "unknown-condition"]),
    "what is part of another": (
        ("rule: part of, elements: [zz], into: [yy]",), ["unknown-element", "unknown-element"]),
    "a role that nobody takes": (
        ("rule: no role, role: zz, statuses: [unlisted], when-none: yes, not-when: [yy], takes: 0.3 points",),
        ["unknown-role", "unknown-condition"]),
    "what is swallowed": (
        ("rule: swallow, by: zz, role: yy, unless: [xx], faults: [ww]",),
        ["unknown-fault", "unknown-fault", "unknown-role", "unknown-condition"]),
    "what is capped": (("rule: cap, faults: [zz], at-most: 0.400 points",), ["unknown-fault"]),
    "what is one error": (("rule: one error, faults: [zz, fall]",), ["unknown-fault"]),
    "what a time limit follows": (
        ("rule: time limit, after: [zz], within: 45 seconds, edge: included, counted-from: standing",),
        ["unknown-fault"]),
    "the role that always counts": (
        (VALUES, "rule: counting elements, at-most: 8 elements, role: zz, that-role: always counts"),
        ["unknown-role"]),
    "what is connected": (
        (VALUES, "rule: connection, first: {at-least: D, with: [zz]}, second: {at-least: A}, order: either, "
         "joined-by: yy, gives: 0.100 points"),
        ["unknown-condition", "unknown-condition", "unknown-value"]),
    "a fault in another reading": (
        ("rule: cap, faults: [hop], at-most: 0.300 points, left-open: {question: Q?, faults: [zz]}",),
        ["unknown-fault"]),
    "an element in another reading": (
        ("rule: one element, elements: [giant], at-most: 2 in a row, parted-by: touched-floor, "
         "left-open: {question: Q?, elements: [zz]}",), ["unknown-element"]),
    "a role in another reading": (
        ("rule: no role, role: dismount, statuses: [unlisted], when-none: yes, takes: 0.300 points, "
         "left-open: {question: Q?, role: zz}",), ["unknown-role"]),
    "a condition in another reading": (
        ("rule: withheld, reason: spotted, takes: [value part], condition: touched-floor, "
         "left-open: {question: Q?, condition: zz}",), ["unknown-condition"]),
    "a status": (
        ("rule: no role, role: mount, statuses: [zz], when-none: yes, takes: 0.300 points",), ["bad-value"]),
    "a kind of rule": (("rule: formula, says: x",), ["bad-value"]),
    "a reason": (("rule: withheld, reason: zz, takes: [value part], condition: touched-floor",),
                 ["bad-value"]),
    "what is taken": (("rule: withheld, reason: spotted, takes: [zz], condition: touched-floor",),
                      ["bad-value"]),
    "what decides a tie": (("rule: ties, higher: [zz]",), ["bad-value"]),
    "a result of an inquiry": (("rule: inquiry, result: [zz]",), ["bad-value"]),
    "a field": (("rule: note, says: x, sees: y",), ["unknown-field"]),
}  # fmt: skip


@pytest.mark.parametrize(("clauses", "codes"), UNKNOWN.values(), ids=UNKNOWN)
def test_what_the_book_does_not_know_is_told_at_the_clause_that_names_it(
    clauses: tuple[str, ...], codes: list[str]
) -> None:
    assert placed(*clauses) == [(code, len(clauses)) for code in codes]


TWICE = {
    "a clause": "  - {id: fault.hop, %s, rule: note, says: x}\n",
    "an element": "  - {id: own-1, %s, rule: elements, status: listed, elements: [{code: giant, name: X}]}\n",
    "a fault": "  - {id: own-1, %s, rule: fault, fault: hop, name: X, amount: 0.100 points, scope: each}\n",
}


@pytest.mark.parametrize("clause", TWICE.values(), ids=TWICE)
def test_a_code_given_twice_is_told(clause: str) -> None:
    (problem,) = problems_of(SMALL + clause % HEAD)
    assert (problem.code, problem.where) == ("given-twice", f"book.yaml:{LINES + 1}")


@pytest.mark.parametrize(
    "said",
    [
        ("rule: fact, fact: f, name: F, takes: 0.100 points",) * 2,
        ("rule: requirement, requirement: r, name: R, role: mount, takes: 0.500 points",) * 2,
        ("rule: cap, faults: [hop, hop], at-most: 0.300 points",),
        ("rule: elements, status: listed, elements: [{code: x, name: X}, {code: x, name: Y}]",),
    ],
    ids=["a fact", "a requirement", "a fault of a cap", "an element of a clause"],
)
def test_what_is_named_twice_is_told(said: tuple[str, ...]) -> None:
    assert placed(*said) == [("given-twice", len(said))]


READINGS = {
    "without a question": ("{repeated: once}", "missing-field"),
    "without a field": ("{question: Q?}", "missing-field"),
    "of a common field": ("{question: Q?, title: Other, repeated: once}", "bad-value"),
    "of a source": ("{question: Q?, source: common practice, repeated: once}", "bad-value"),
    "of an unknown field": ("{question: Q?, often: once}", "unknown-field"),
    "of a word that is none": ("{question: Q?, repeated: thrice}", "bad-value"),
    "of an absurd amount": ("{question: Q?, takes: 1e999999 points}", "bad-value"),
    "that is no mapping": ("once", "no-fields"),
}


@pytest.mark.parametrize(("said", "code"), READINGS.values(), ids=READINGS)
def test_a_reading_left_open_in_a_wrong_way_is_told(said: str, code: str) -> None:
    assert (code, 1) in placed(OPEN + said)


def test_twelve_readings_may_be_open_and_thirteen_may_not() -> None:
    """Twelve coupled either-or decisions are followed up exactly; more could not be reckoned through."""
    clauses = [
        f"rule: fact, fact: f{n}, name: F, takes: 0.1 points, left-open: {{question: Q?, takes: 0.2 points}}"
        for n in range(13)
    ]
    assert len(rules.parse(with_clauses(*clauses[:12]), "book.yaml").interpretations) == 12
    (problem,) = problems_of(with_clauses(*clauses))
    assert problem.code == "too-many-open"
    assert "13" in str(problem.message)


@pytest.mark.parametrize("since", ["2029-01-01", "2026-02-30", "1 August", "2026-8-1"])
def test_a_clause_holds_from_a_day_within_the_books_time(since: str) -> None:
    head = f"title: T, since: {since}, source: from memory"
    assert placed("rule: note, says: x", head=head) == [("bad-value", 1)]


def test_a_book_does_not_end_before_it_begins() -> None:
    text = SMALL.replace("{from: 2026-08-01, until: 2028-07-31}", "{from: 2026-08-01, until: 2026-07-31}")
    found = problems_of(text)
    assert found[0].where == f"book.yaml:{line_of('effective:')}"
    assert "ends before it begins" in str(found[0].message)


def line_of(beginning: str) -> int:
    return next(n for n, line in enumerate(SMALL.splitlines(), start=1) if line.startswith(beginning))


AMOUNTS = ["1e999999 points", "-0.500 points", "11 points", "10.001 points", "0.0001 points", "0.1", "points",
           "0.1 tenths", "NaN points", "inf points", "0,1 points", "9" * 400 + " points", "0x1 points",
           "½ points", "٣ points"]  # fmt: skip


@pytest.mark.parametrize("amount", AMOUNTS, ids=lambda text: text[:20])
def test_an_amount_that_is_none_is_told_wherever_it_stands(amount: str) -> None:
    clauses = (
        f"rule: fault, fault: f, name: F, amount: '{amount}', scope: each",
        f"rule: fault, fault: g, name: G, up-to: '{amount}', scope: each",
        f"rule: fault, fault: h, name: H, one-of: ['{amount}'], scope: each",
        f"rule: cap, faults: [hop], at-most: '{amount}'",
        f"rule: fact, fact: i, name: I, takes: '{amount}'",
        f"rule: courtesy, at-least: '{amount}', held-against: average",
        f"rule: element values, values: {{A: '{amount}'}}",
    )
    found = problems_of(with_clauses(*clauses))
    at = {int(one.where.rpartition(":")[2]) - LINES for one in found if one.code == "bad-value"}
    assert at == set(range(1, 8))
    assert all(len(str(one.message)) < 300 for one in found)


@pytest.mark.parametrize("angle", ["-181 degrees", "1e9 degrees", "-45", "steep", "-45.0001 degrees"])
def test_an_angle_that_is_none_is_told(angle: str) -> None:
    (problem,) = problems_of(SMALL.replace("at-least: -45 degrees", f"at-least: {angle}"))
    assert problem.code == "bad-value"
    assert problem.where == f"book.yaml:{1 + SMALL[: SMALL.index('at-least: -45')].count(chr(10))}"


def test_a_tolerance_is_not_negative() -> None:
    (problem,) = problems_of(SMALL.replace("below-limit: 10 degrees", "below-limit: -10 degrees"))
    assert "not negative" in str(problem.message)


@pytest.mark.parametrize(
    "judges", ["0 judges", "-4 judges", "4", "4.5 judges", "10000 judges", "four judges"]
)
def test_a_number_that_is_none_is_told(judges: str) -> None:
    assert placed(f"rule: panel size, judges: {judges}, counting: all") == [("bad-value", 1)]


@pytest.mark.parametrize("within", ["45", "-45 seconds", "45 points", "soon", "1e9 seconds", "9 in"])
def test_a_time_that_is_none_is_told(within: str) -> None:
    clause = f"rule: time limit, after: [fall], within: {within}, edge: included, counted-from: standing"
    assert placed(clause) == [("bad-value", 1)]


@pytest.mark.parametrize("length", ["9", "-9 in", "9 inches", "9 seconds", "1e9 in"])
def test_a_length_that_is_none_is_told(length: str) -> None:
    assert placed(f"rule: fact, fact: f, name: F, takes: 0.300 points, more-than: {length}") == [
        ("bad-value", 1)
    ]


@pytest.mark.parametrize(
    ("source", "code"),
    [("", "no-text"), ("heard it", "bad-value"), ("'published: '", "bad-value"), ("published", "bad-value")],
)
def test_a_source_that_is_none_is_told(source: str, code: str) -> None:
    head = f"title: T, since: 2026-08-01, source: {source}"
    assert placed("rule: note, says: x", head=head) == [(code, 1)]


def test_a_missing_source_is_told() -> None:
    assert placed("rule: note, says: x", head="title: T, since: 2026-08-01") == [("missing-source", 1)]


def test_all_problems_of_a_book_are_told_at_once_in_the_order_of_its_lines() -> None:
    text = SMALL.replace("id: small", "id: Small Book").replace("rounding: truncate", "rounding: up")
    text = text.replace("season: 2026-27", "season: 2026-27\nweather: fine")
    text = text.replace("up-to: 0.100 points", "up-to: 0.330 points").replace("[small-step]", "[large-step]")
    found = problems_of(text)
    assert [one.code for one in found] == [
        "bad-value", "unknown-field", "bad-value", "unknown-fault", "bad-value",
    ]  # fmt: skip
    lines = [int(one.where.rpartition(":")[2]) for one in found]
    assert lines == sorted(lines)


def told_at_once(path: Path) -> tuple[Problem, ...]:
    """The problems of a file, found within a second of work and twenty megabytes."""
    tracemalloc.start()
    begun = perf_counter()
    found = rules.check(path)
    taken, most = perf_counter() - begun, tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert taken < 10
    assert most < 20_000_000
    assert all(one.where and str(one.message) and str(one.remedy) for one in found)
    return found


def test_fifty_megabytes_of_aliases_are_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "aliases.yaml"
    row = "  - &b [*a, *a, *a, *a, *a, *a, *a, *a, *a, *a]\n"
    path.write_text("clauses:\n  - &a [x]\n" + row * (50_000_000 // len(row)), encoding="utf-8")
    assert path.stat().st_size > 49_000_000
    (problem,) = told_at_once(path)
    assert problem.code == "too-large"


def test_a_small_file_of_aliases_that_would_fill_the_memory_is_refused(tmp_path: Path) -> None:
    """Nine levels of nine aliases each, expanded, would be 387 million items."""
    path = tmp_path / "aliases.yaml"
    levels = ["l0: &l0 [x, x, x, x, x, x, x, x, x]"]
    levels += [f"l{n}: &l{n} [{', '.join([f'*l{n - 1}'] * 9)}]" for n in range(1, 9)]
    path.write_text("\n".join(levels), encoding="utf-8")
    assert {one.code for one in told_at_once(path)} == {"anchor"}


@pytest.mark.parametrize("text", ["[" * 900_000, "a: " + "[" * 450_000 + "]" * 450_000, "- " * 300_000])
def test_lists_within_lists_without_end_are_refused(text: str, tmp_path: Path) -> None:
    path = tmp_path / "deep.yaml"
    path.write_text(text, encoding="utf-8")
    (problem,) = told_at_once(path)
    assert problem.code in ("too-deep", "not-yaml")
    assert "deep.yaml" in problem.where


@pytest.mark.parametrize(
    ("content", "code"),
    [
        ("title: Übung\n".encode("latin-1"), "not-text"),
        ("title: Übung\n".encode("utf-16"), "not-text"),
        (b"\x89PNG\r\n\x1a\n\0\0", "not-text"),
        (b"format: reviewer.rule-book/2\nid: a\0b\n", "not-yaml"),
        (b"\0" * 1000, "not-yaml"),
        (b"", "empty"),
        (b"# only a remark\n", "empty"),
        (b"just words", "no-fields"),
        (b"format: reviewer.rule-book/2\n---\nformat: reviewer.rule-book/2\n", "not-yaml"),
        (b"\tformat: reviewer.rule-book/2\n", "not-yaml"),
    ],
    ids=["latin", "utf-16", "picture", "nul", "nuls", "empty", "remark", "words", "two books", "tab"],
)
def test_what_is_no_text_of_a_rule_book_is_told(content: bytes, code: str, tmp_path: Path) -> None:
    path = tmp_path / "bad.yaml"
    path.write_bytes(content)
    found = rules.check(path)
    assert found[0].code == code
    assert all("bad.yaml" in one.where and str(one.message) and str(one.remedy) for one in found)


def test_a_folder_and_a_missing_file_are_told(tmp_path: Path) -> None:
    for path in (tmp_path, tmp_path / "missing.yaml"):
        (problem,) = rules.check(path)
        assert problem.code == "unreadable"
        assert str(path) in problem.where


@pytest.mark.parametrize("said", ["reviewer.rule-book/3", "reviewer.marks/1", "2"])
def test_another_format_is_refused_at_its_line(said: str) -> None:
    text = SMALL.replace("format: reviewer.rule-book/2", f"format: {said}")
    assert ("bad-value", f"book.yaml:{line_of('format:')}") in [
        (one.code, one.where) for one in problems_of(text)
    ]
