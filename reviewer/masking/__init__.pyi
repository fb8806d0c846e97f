from .following import FARTHEST, follow
from .offering import can_offer, offered

__all__ = ["FARTHEST", "can_offer", "follow", "offered"]
