"""A report's finding is what its published schema says, and so are the documents inside it."""

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

SCHEMAS = Path(__file__).resolve().parents[2] / "annotations" / "schemas"


def check(document: Any, name: str) -> None:
    schema = json.loads((SCHEMAS / f"{name}.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(document, schema)


def test_a_finding_is_as_its_schema_says(finding: dict[str, Any]) -> None:
    check(finding, "finding")


def test_the_score_in_it_is_as_its_own_schema_says(finding: dict[str, Any]) -> None:
    check(finding["score"], "score")


@pytest.mark.parametrize("number", range(3))
def test_the_readings_in_it_are_as_their_own_schema_says(finding: dict[str, Any], number: int) -> None:
    check(finding["readings"][number], "reading")


@pytest.mark.parametrize("key", ["format", "score", "stills", "language", "case"])
def test_a_finding_that_lacks_something_is_refused(finding: dict[str, Any], key: str) -> None:
    with pytest.raises(jsonschema.ValidationError):
        check({name: value for name, value in finding.items() if name != key}, "finding")
