"""Every job without a screen: one thin skin over the other rooms."""

from fieldassist.cli.program import main

__all__ = ["main"]
