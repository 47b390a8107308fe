"""Days for the pages to be tried on, made by commands that the engine takes: nothing, a failure left open, 200 tiles,
many areas, measured backs, names of the greatest length, letters of many scripts, thirty open points, addenda.

Everything in them is invented. A day is made once a process.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache

from fieldassist.checklist import commands as cmd
from fieldassist.trade.message import message
from tests.report.conftest import Site, eventful_day, handed_over_day, photo_of_back, picture, plan_of

# As long as a plan's texts may be, in words and in one word, and as long as a name may be.
LONG_WORDS = ("the north bath house behind the old ropewalk, " * 12)[:400].strip()
LONG_WORD = "Quay" * 100
LONG_NAME = "w" * 60
# Written from right to left, without spaces, with marks on marks, and what no typeface of ours has.
SCRIPTS = "浴場四号館 حمام الرصيف בית מרחץ Żółw e\u0301\u0302\u0323 ที่ 👷🏽‍♀️🛁 𓂀 \u202eabc\u202c"
ROOMS = (
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
)  # fmt: skip


def _named(count: int) -> tuple[str, ...]:
    return tuple(f"bath {room}" for room in ROOMS[:count])


def nothing() -> Site:
    """A day on which nothing was done, signed and sealed."""
    return Site().sign(accept_open=True).seal()


def failed() -> Site:
    """A failed lift that nobody cured, in an area that is left so; not signed."""
    site = Site().start("shower wall").release().batch().tile()
    return site.lift("61", void="4200", corners="not-full", label="a")


def finished() -> Site:
    """One area, finished and sealed, with nothing left open."""
    site = Site(plan_of(areas=("shower wall",))).start("shower wall").release().batch()
    while len(_lifts(site)) < 3:
        site.tile()
        if _lift_is_due(site):
            site.lift("97")
    return site.finish().sign(accept_open=True).seal()


def addenda() -> Site:
    """Two areas, photos, a seal, an addendum that is sealed and one that is open."""
    return handed_over_day()


def imperial() -> Site:
    """Two areas in US units, never signed."""
    return eventful_day("us")


def hostile() -> Site:
    """Texts and names as long as they may be and in every script, more than thirty points that wait for an answer, and
    no seal."""
    names = (LONG_NAME, "浴場四号館", "حمام الرصيف", "e\u0323\u0302\u0301x bath", *_named(6))
    plan = plan_of(areas=names)
    plan |= {"site": f"{LONG_WORD} {SCRIPTS}"[:400], "address": LONG_WORDS, "owner": f"{SCRIPTS} {LONG_WORDS}"[:400]}
    plan["crew"] = [
        *plan["crew"],
        {"name": LONG_NAME, "role": "foreman"},
        {"name": "青山", "spoken": "ao yama", "role": "installer"},
    ]
    for number, area in enumerate(plan["areas"]):
        area["spoken"] = f"room {ROOMS[number]}"
        area["where"] = f"{SCRIPTS} {LONG_WORDS}"[:400]
        area["mortar"] |= {"name": LONG_WORDS[:120], "pot_life": "12 h"}
        area["grid"] = {"rows": 4, "columns": 3}
    site = Site(plan)
    for number, name in enumerate(names):
        site.start(name).release().batch().tile()
        site.lift(str(60 + number), void=str(2000 + 900 * number), corners="not-full")
        site.do(cmd.MakeNote(text=f"{SCRIPTS} {LONG_WORD}"), cmd.MakeNote(text="=1+1; <b>&amp; \\ %s {x} end"))
    return site.speak(LONG_NAME).do(cmd.SignDay(accept_open=True))


def many_areas(count: int) -> Site:
    """So many areas with a lift each, every third of which failed and was cured; signed and sealed."""
    plan = plan_of(areas=_named(count))
    for area in plan["areas"]:
        # No batch runs out while the others are worked at.
        area["mortar"]["pot_life"] = "12 h"
    site = Site(plan)
    for number, name in enumerate(_named(count)):
        site.start(name).release().batch().tile()
        if number % 3 == 2:
            site.lift("88", void="1500", corners="not-full").cure()
            site.lift(str(95 + number % 5))
        else:
            site.lift(str(95 + number % 5))
    return site.sign(accept_open=True).seal()


def large(tiles: int = 200, camera: Callable[[int], bytes] = picture) -> Site:
    """A wall of so many tiles in a grid, lifted as its checklist asks, with a photo each; some lifts fail and are
    cured. Signed and sealed."""
    plan = plan_of(areas=("long wall",))
    plan["areas"][0] |= {"grid": {"rows": -(-tiles // 20), "columns": 20}, "size": f"{tiles * 0.72:g} m2"}
    plan["areas"][0]["mortar"]["pot_life"] = "24 h"  # an earlier bucket is not thrown away here
    site = Site(plan, camera=camera).start("long wall").release()
    lifts = 0
    for number in range(tiles):
        if number % 10 == 0:
            site.batch()
        _quick_tile(site)
        while _lift_is_due(site):
            lifts += 1
            if lifts % 14 == 5:
                site.lift("90", void="1800", corners="not-full").cure()
            else:
                site.lift(str(95 + lifts % 5), void=str(100 + lifts))
    site.end()
    if _lift_is_due(site):
        while _lift_is_due(site):
            site.lift("98")
        site.end()
    return site.confirm("closing", "joints").sign(accept_open=True).seal()


def _quick_tile(site: Site) -> None:
    """A tile within two minutes."""
    site.do(cmd.StartRound(section="tile")).understood()
    site.confirm("tile", "combed").confirm("tile", "set")


def _lifts(site: Site) -> tuple[object, ...]:
    area = site.state.area
    return () if area is None else tuple(area.progress.lifts)


def _lift_is_due(site: Site) -> bool:
    area = site.state.area
    return area is not None and bool(area.progress.tasks) and area.progress.tasks[0].section == "lift"


def measured() -> Site:
    """Backs on their photos: one painted after the photo could not tell, one measured after it was read by eye, one put
    right by paint with swirls, one read by eye while its photo says less; not signed."""
    site = Site(plan_of(areas=("shower wall",)), camera=photo_of_back).start("shower wall").release().batch().tile()
    told = message("engine-photo-first", area="shower wall")
    site.lift_up().photo().measured(97.0, way="painted", voids=9, kind="combed", cannot=told, ridges="swirled")
    site.told_of_photo("painted on a photo", "97")
    site = next_lift(site).photo().measured(98.2, 96.4, 99.1, voids=5, eye_percent=95, eye_by="ana")
    site.told_of_photo("measured on a photo", "98")
    site = next_lift(site).photo().measured(97.7, 96.2, 98.4, voids=7, way="corrected", ridges="not readable")
    site.told_of_photo("measured on a photo", "97")
    site = next_lift(site).photo().measured(88.3, 85.0, 90.4)
    site.read("lift", "coverage", "96", "percent").read("lift", "void", "300", "mm2")
    return site.do(cmd.Choose(section="lift", step="corners", option="full"))


def next_lift(site: Site) -> Site:
    """Tiles until the next is to be lifted, and that one lifted."""
    site.tile()
    while not _lift_is_due(site):
        site.tile()
    return site.lift_up()


DAYS: Mapping[str, Callable[[], Site]] = {
    "nothing": cache(nothing),
    "failed": cache(failed),
    "finished": cache(finished),
    "addenda": cache(addenda),
    "imperial": cache(imperial),
    "hostile": cache(hostile),
    "eight areas": cache(lambda: many_areas(8)),
    "twelve areas": cache(lambda: many_areas(12)),
    "200 tiles": cache(large),
    "measured": cache(measured),
}
