"""Real scores pass the published schema of ``reviewer.score/1`` (JSON Schema 2020-12), key by key."""

import copy
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from reviewer import actions
from reviewer.terms.exact import Points
from tests.actions.small_routine import begin

ROOT = Path(__file__).parents[2]
SCHEMA: dict[str, Any] = json.loads((ROOT / "annotations/schemas/score.schema.json").read_text())
INTERNATIONAL = [
    {"id": "mount", "kind": "element", "code": "element-b", "called": "101", "roles": ["mount"], "order": 1},
    {"id": "cast", "kind": "element", "code": "cast-to-handstand", "order": 2},
    {"id": "flight", "kind": "element", "code": "element-d", "called": "301", "order": 3,
     "with": ["flight-same-bar", "on-high-bar", "connected"]},
    {"id": "grips", "kind": "element", "code": "element-d", "called": "302", "order": 4,
     "with": ["different-grip", "on-high-bar"]},
    {"id": "dismount", "kind": "element", "code": "element-c", "called": "601", "roles": ["dismount"],
     "order": 5},
    {"id": "f1", "kind": "fault", "code": "fall", "element": "flight", "amount": "1.000", "judge": "A",
     "seen": "slowed"},
    {"id": "f2", "kind": "fault", "code": "fall", "element": "flight", "amount": "1.000", "judge": "B"},
]  # fmt: skip
ANY = "any other key"
"""How the schema of any other key is kept."""


def written(path: Path, marks: list[dict[str, Any]], **also: Any) -> Path:
    path.write_text(json.dumps({"format": "reviewer.marks/1", "marks": marks, **also}), encoding="utf-8")
    return path


def worked_example(folder: Path) -> dict[str, Any]:
    """With a posted score that cannot be reached."""
    return actions.score_document(begin(folder / "worked.case"), posted=Points.parse("8.900"))


def case_with_everything_chosen(folder: Path) -> dict[str, Any]:
    """A reading chosen that the edition does not leave open, a panel before and after a conference."""
    scores = {"A": Points.parse("9.400"), "B": Points.parse("8.900")}
    with actions.start_case(
        folder / "chosen.case", author="A", athlete_code="G-12", consent="given"
    ) as audit:
        actions.choose_interpretation(audit, "few-value-parts", "other")
        actions.choose_interpretation(audit, "panel.of-three", "other")
        actions.keep_panel(audit, scores, scores)
        first = actions.audit_score(audit)
        actions.choose_edition(audit, "demo-bars-2-previous")
        return first | {"warnings": actions.audit_score(audit)["warnings"]}


def case_with_frames(folder: Path) -> dict[str, Any]:
    """Marks on the sample recording."""
    with actions.start_case(
        folder / "frames.case", author="A", athlete_code="G-12", consent="given",
        recording=ROOT / "sample_clips" / "square-on.mp4",
    ) as audit:  # fmt: skip
        actions.import_marks(audit, ROOT / "annotations" / "square-on.marks.json")
        score = actions.audit_score(audit)
    assert any(line["frames"] for line in score["lines"])
    return score


def international(folder: Path) -> dict[str, Any]:
    """Two judges, one fault seen in slow motion only."""
    marks = written(folder / "international.json", INTERNATIONAL, rule_book="international-bars")
    score = actions.score_document(marks, posted=Points.parse("10.000"))
    assert score["full_speed"]
    assert len(score["judges"]) == 2
    return score


def casts_that_cannot_be_told(folder: Path) -> dict[str, Any]:
    """More than can be followed up: bounds only."""
    angle = {"deg": "-54.5", "u_deg": "1", "by": "protractor"}
    marks = [
        {"id": f"c{n}", "kind": "element", "code": "cast", "order": n, "angle": angle} for n in range(14)
    ]
    score = actions.score_document(written(folder / "casts.json", marks), posted=Points.parse("9.000"))
    assert not score["reachable"]["exact"]
    return score


def reachable_by_a_cast(folder: Path) -> dict[str, Any]:
    """What the posted score takes is an amount and a cast otherwise."""
    angle = {"deg": "-54.5", "u_deg": "1", "by": "protractor"}
    marks = [
        {"id": "c", "kind": "element", "code": "cast", "order": 1, "angle": angle},
        {"id": "f", "kind": "fault", "code": "arms-bent", "element": "c", "amount": "0.100"},
    ]
    document = written(folder / "cast.json", marks)
    low = actions.score_document(document)["reachable"]["low"]
    score = actions.score_document(document, posted=Points.parse(low))
    assert {tuple(one) for one in score["towards_posted"]["takes"]} == {("mark", "cast"), ("mark", "amount")}
    return score


def marks_that_cannot_be_scored(folder: Path) -> dict[str, Any]:
    """Problems beside a score of the rest."""
    marks = [{"id": "x", "kind": "fault", "code": "sulking", "amount": "0.100"}]
    return actions.score_document(written(folder / "bad.json", marks))


REAL = (
    worked_example,
    case_with_everything_chosen,
    case_with_frames,
    international,
    casts_that_cannot_be_told,
    reachable_by_a_cast,
    marks_that_cannot_be_scored,
)
each = pytest.mark.parametrize("score_of", REAL, ids=lambda one: one.__name__)


def faults(document: Any) -> list[str]:
    return [f"{one.json_path}: {one.message}" for one in Draft202012Validator(SCHEMA).iter_errors(document)]


def undescribed(document: Any, schema: dict[str, Any], place: str = "$") -> Iterator[str]:
    """Keys of a document that no schema beside them speaks of."""
    parts = list(_parts(schema))
    if isinstance(document, list):
        for number, one in enumerate(document):
            for part in parts:
                yield from undescribed(one, part["items"], f"{place}[{number}]") if "items" in part else ()
    known = _keys(parts)
    for key, value in document.items() if isinstance(document, dict) and known else ():
        if key in known or ANY in known:
            yield from undescribed(value, known.get(key) or known[ANY], f"{place}.{key}")
        else:
            yield f"{place}.{key}"


def _keys(parts: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    """What is said of each key, and of any other."""
    known = {key: said for part in parts for key, said in part.get("properties", {}).items()}
    others = [part["additionalProperties"] for part in parts if "additionalProperties" in part]
    return known | ({ANY: others[0]} if others else {})


def _parts(schema: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """A schema and all it refers to."""
    yield schema
    if "$ref" in schema:
        yield from _parts(SCHEMA["$defs"][schema["$ref"].rpartition("/")[2]])
    for one in (*schema.get("allOf", ()), *schema.get("anyOf", ())):
        yield from _parts(one)


def test_the_schema_is_one_of_json_schema_2020_12() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == Draft202012Validator.META_SCHEMA["$id"]
    assert SCHEMA["properties"]["format"] == {"const": "reviewer.score/1"}


@each
def test_a_real_score_passes(score_of: Callable[[Path], dict[str, Any]], tmp_path: Path) -> None:
    assert faults(json.loads(json.dumps(score_of(tmp_path)))) == []


@each
def test_every_key_of_a_real_score_is_described(
    score_of: Callable[[Path], dict[str, Any]], tmp_path: Path
) -> None:
    assert list(undescribed(score_of(tmp_path), SCHEMA)) == []


def left_open(score: Any) -> Any:
    return score["reachable_apart"]["with_other_readings"]["open"]


CHANGED: dict[str, Callable[[Any], object]] = {
    "a score as a number": lambda score: score.update(final_score=6.2),
    "a score of two places": lambda score: score.update(final_score="6.20"),
    "a missing ledger": lambda score: score.pop("lines"),
    "a line without its clause": lambda score: score["lines"][0].pop("clause"),
    "a line of no stage": lambda score: score["lines"][0].update(stage="mood"),
    "an execution line of no judge": lambda score: score["lines"][-1].update(stage="execution", judge=None),
    "a line that rests on hearsay": lambda score: score["lines"][0].update(source="somebody said so"),
    "a reason outside the closed list": lambda score: score["not_earned"][0].update(reason="ugly"),
    "bounds with scores": lambda score: score["reachable"].update(exact=False),
    "a note of no known kind": lambda score: score["notes"].append(
        {"code": "mood", "clause": None, "marks": [], "frames": None, "why": "Fine."}
    ),
    "a reading without its clause": lambda score: left_open(score)[0].pop("clause"),
    "another format": lambda score: score.update(format="reviewer.score/2"),
}


@pytest.fixture(scope="module")
def worked(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    return worked_example(tmp_path_factory.mktemp("worked"))


@pytest.mark.parametrize("change", CHANGED.values(), ids=CHANGED)
def test_what_is_no_score_is_refused(worked: dict[str, Any], change: Callable[[Any], object]) -> None:
    document = copy.deepcopy(worked)
    assert faults(document) == []
    change(document)
    assert faults(document)
