"""An index over the cases of one folder: kept current, searched, and deleted with them. A meet's register.

The index holds what can be derived from the cases again, and no name of a person: no notes, no names, no
authors, no places of recordings.
"""

from reviewer.shelf.errors import ShelfError
from reviewer.shelf.index import FILE, Shelf, has_shelf, on_shelf, remove_shelf
from reviewer.shelf.register import REGISTER, Register, has_register, open_register
from reviewer.shelf.rows import CaseRows, rows_of

__all__ = [
    "FILE",
    "REGISTER",
    "CaseRows",
    "Register",
    "Shelf",
    "ShelfError",
    "has_register",
    "has_shelf",
    "on_shelf",
    "open_register",
    "remove_shelf",
    "rows_of",
]
