"""Offline voice-and-checklist assistant for crews setting large-format tile and gauged porcelain panels."""

__version__ = "0.2.0"
