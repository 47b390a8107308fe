"""The report of a day, built from its events: a file a subject, put together in `day`.

    checked_report(events, hashes, units=...) -> report_model.DayReport
    build_report(events, units=..., seals=..., releases=...) -> the same, with what was checked handed in

What counts comes from `checklist.standing`, what is open from `checklist.open_points`, every text from `language.Words`
in the document's one system of units.
"""

from fieldassist.report.build.context import NoDay
from fieldassist.report.build.day import build_report, checked_report

__all__ = ["NoDay", "build_report", "checked_report"]
