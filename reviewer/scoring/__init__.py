"""Marks + rule book → score sheet, and the scores that were reachable. Pure; looks at nothing else."""

from reviewer.scoring.engine import score
from reviewer.scoring.reaching import nearest

__all__ = ["nearest", "score"]
