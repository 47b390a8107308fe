"""A day's pages, built from its facts: a file a page or part of one, put together in `day`.

    day_pages(facts, words) -> model.DayPages

Facts are what `facts` gives, told in the document's language and units; nothing is looked up in the record.
"""

from fieldassist.report.build.day import day_pages

__all__ = ["day_pages"]
