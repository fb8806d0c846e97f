"""Marks + rule book → score sheet, and the scores that were reachable. Pure; looks at nothing else."""

from reviewer.scoring.answering import Proposal, beyond_audit, propose, propose_start, unanswered, unscored
from reviewer.scoring.anypanel import held_against_panel
from reviewer.scoring.becoming import credit_marks, final_as_marked, final_as_posted
from reviewer.scoring.costing import costs, value_part_cost
from reviewer.scoring.engine import STAGES, score
from reviewer.scoring.givable import is_final, is_start, most_final, most_of_judge, most_start, step
from reviewer.scoring.inquiries import in_its_words, refused_by
from reviewer.scoring.panels import PanelScore, panel_score
from reviewer.scoring.posted import agreeing_ranks, execution, ranks, total
from reviewer.scoring.reaching import held_against
from reviewer.scoring.rooms import left_open, room
from reviewer.scoring.trying import Trial
from reviewer.scoring.ways import Way, way_to

__all__ = [
    "STAGES",
    "PanelScore",
    "Proposal",
    "Trial",
    "Way",
    "agreeing_ranks",
    "beyond_audit",
    "costs",
    "credit_marks",
    "execution",
    "final_as_marked",
    "final_as_posted",
    "held_against",
    "held_against_panel",
    "in_its_words",
    "is_final",
    "is_start",
    "left_open",
    "most_final",
    "most_of_judge",
    "most_start",
    "panel_score",
    "propose",
    "propose_start",
    "ranks",
    "refused_by",
    "room",
    "score",
    "step",
    "total",
    "unanswered",
    "unscored",
    "value_part_cost",
    "way_to",
]
