"""The routine strip: the routine down the page, as a judge writes it, to the scale of time.

Lanes carry readings, elements, faults and notes; names stand beside them, moved apart where they would touch
and tied to their place by a thin line.
"""

from reviewer.desk.strip.pane import StripPane
from reviewer.desk.strip.scale import spread
from reviewer.desk.strip.widget import RoutineStrip

__all__ = ["RoutineStrip", "StripPane", "spread"]
