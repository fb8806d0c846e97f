"""The drawing library, imported once and so that the environment stays as it was.

The import sets variables that would lead a window toolkit in the same process, or a child of it, to the
wrong plugins and libraries.
"""

import os

_BEFORE = dict(os.environ)

import cv2  # noqa: E402

for _name in set(os.environ) - set(_BEFORE):
    del os.environ[_name]
os.environ.update(_BEFORE)

__all__ = ["cv2"]
