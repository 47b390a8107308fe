"""Dates and times of a document as messages: the language says how they are written."""

from __future__ import annotations

from datetime import date, datetime

from fieldassist.trade.message import Figure, message, term


def day_told(day: str) -> Figure:
    """An ISO date in words; another text as it stands.

    >>> print(day_told("2026-03-17"))
    page-date(weekday=page-weekday-2, day=17, month=page-month-3, year=2026)
    """
    try:
        on = date.fromisoformat(day)
    except ValueError:
        return day
    weekday, month = term("page-weekday", str(on.isoweekday())), term("page-month", str(on.month))
    return message("page-date", weekday=weekday, day=str(on.day), month=month, year=str(on.year))


def short_day_told(day: str) -> Figure:
    """An ISO date without its day of the week; another text as it stands."""
    try:
        on = date.fromisoformat(day)
    except ValueError:
        return day
    month = term("page-month", str(on.month))
    return message("page-short-date", day=str(on.day), month=month, year=str(on.year))


def time_told(wall: str, day: str) -> Figure:
    """Hours and minutes of a wall time (ISO 8601), with its date where that is not `day`; "" for none.

    >>> time_told("2026-03-17T09:58:01+01:00", "2026-03-17")
    '09:58'
    >>> print(time_told("2026-03-18T00:12:44+01:00", "2026-03-17").code)
    page-time-of
    """
    if not wall:
        return ""
    when = datetime.fromisoformat(wall)
    clock = f"{when.hour:02}:{when.minute:02}"
    if when.date().isoformat() == day:
        return clock
    return message("page-time-of", date=short_day_told(when.date().isoformat()), time=clock)


def clock_told(wall: str, day: str) -> Figure:
    """Hours and minutes for a narrow column, with the number of days after `day` where it is not that one; "" for none.

    >>> clock_told("2026-03-17T09:58:01+01:00", "2026-03-17")
    '09:58'
    >>> print(clock_told("2026-03-18T00:12:44+01:00", "2026-03-17"))
    page-clock-later(time=00:12, days=1)
    """
    if not wall:
        return ""
    when = datetime.fromisoformat(wall)
    clock, days = f"{when.hour:02}:{when.minute:02}", days_after(wall, day)
    if not days:
        return clock
    return message("page-clock-later" if days > 0 else "page-clock-earlier", time=clock, days=abs(days))


def days_after(wall: str, day: str) -> int:
    """How many days after `day` a wall time lies; 0 where that is no date."""
    try:
        return (datetime.fromisoformat(wall).date() - date.fromisoformat(day)).days
    except ValueError:
        return 0
