"""What Qt itself says in its dialogs and menus, in the desk's language; the translations come with Qt."""

from PyQt6.QtCore import QLibraryInfo, QTranslator
from PyQt6.QtWidgets import QApplication


def speak(application: QApplication, language: str) -> None:
    """Let Qt's own words be in a language; in English where Qt does not have it."""
    folder = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
    words = QTranslator(application)
    if words.load(f"qtbase_{language}", folder):
        application.installTranslator(words)
