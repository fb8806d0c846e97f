"""What a person can do, one small function each, returning what changed. The doors come in here.

The names stand in ``__init__.pyi``. Each is loaded when it is first used, so that no window and no command
waits for what it does not need.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
