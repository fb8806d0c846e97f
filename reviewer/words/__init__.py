"""Sentences for people in their language: one catalogue for the desk, the terminal and reports."""

from reviewer.words.catalogue import ENGLISH, LANGUAGES, Saying, noted, saying

__all__ = ["ENGLISH", "LANGUAGES", "Saying", "noted", "saying"]
