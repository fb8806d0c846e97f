"""Clicks that give no angle."""

from reviewer.terms.problems import ReviewerError


class MeasuringError(ReviewerError):
    """The clicks cannot be measured; its problems say which and why."""
