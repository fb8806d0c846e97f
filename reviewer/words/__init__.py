"""Sentences for people in their language: one catalogue for the desk, the terminal and reports."""

from reviewer.words.catalogue import ENGLISH, LANGUAGES, Saying, saying

__all__ = ["ENGLISH", "LANGUAGES", "Saying", "saying"]
