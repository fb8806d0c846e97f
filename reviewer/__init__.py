"""Post-meet score audits for women's artistic gymnastics, from recording to defended score."""

__version__ = "0.1.0"
