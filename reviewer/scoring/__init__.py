"""Marks + rule book → score sheet, and the scores that were reachable. Pure; looks at nothing else."""

from reviewer.scoring.engine import STAGES, score
from reviewer.scoring.inquiries import refused_by
from reviewer.scoring.panels import PanelScore, panel_score
from reviewer.scoring.posted import agreeing_ranks, execution, ranks, total
from reviewer.scoring.reaching import nearest

__all__ = [
    "STAGES",
    "PanelScore",
    "agreeing_ranks",
    "execution",
    "nearest",
    "panel_score",
    "ranks",
    "refused_by",
    "score",
    "total",
]
