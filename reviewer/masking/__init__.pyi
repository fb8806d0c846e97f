from .following import FARTHEST, follow

__all__ = ["FARTHEST", "follow"]
