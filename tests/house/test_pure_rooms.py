"""No float, division, clock or chance may enter the score."""

import ast
from pathlib import Path

import pytest

ROOMS = Path(__file__).resolve().parents[2] / "reviewer"
EXACT = [path for room in ("terms", "scoring") for path in sorted((ROOMS / room).glob("*.py"))]
STEADY = [path for room in ("rules", "reports") for path in sorted((ROOMS / room).glob("*.py"))]
CHANCE = {"time", "random", "secrets", "uuid"}
CLOCK = {"now", "today", "utcnow", "fromtimestamp"}


def imported(tree: ast.AST) -> set[str]:
    names = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    return names | {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}


def reads_clock(tree: ast.AST) -> bool:
    return any(isinstance(node, ast.Attribute) and node.attr in CLOCK for node in ast.walk(tree))


def uses_float(tree: ast.AST) -> bool:
    return any(isinstance(node, ast.Name) and node.id == "float" for node in ast.walk(tree))


@pytest.mark.parametrize("path", EXACT, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_points_are_whole_numbers_all_the_way(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert not imported(tree) & CHANCE
    assert not reads_clock(tree)
    assert not uses_float(tree)
    for node in ast.walk(tree):
        assert not (isinstance(node, ast.Constant) and isinstance(node.value, float))
        assert not (isinstance(node, (ast.BinOp, ast.AugAssign)) and isinstance(node.op, ast.Div))


@pytest.mark.parametrize("path", STEADY, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_rules_and_reports_know_no_clock_and_no_chance(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert not imported(tree) & CHANCE
    assert not reads_clock(tree)
    assert not uses_float(tree)
