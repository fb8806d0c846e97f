"""Clicked points → angles with their uncertainty, and verdicts."""

from reviewer.measuring.errors import MeasuringError
from reviewer.measuring.protractor import measure
from reviewer.measuring.records import reading_from_record, reading_json, reading_to_record
from reviewer.measuring.verdicts import verdict

__all__ = ["MeasuringError", "measure", "reading_from_record", "reading_json", "reading_to_record", "verdict"]
