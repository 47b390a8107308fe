"""Pictures to look at; not kept."""
import os, sys
sys.path.insert(0, "/tmp/wt/wall")
from pathlib import Path
from dataclasses import replace
from types import SimpleNamespace
import tests.ui.conftest as c
from tests.ui.walls import wall_area, wall_plan
from fieldassist.checklist.state import changed
OUT = Path("/tmp/look/wall")
up = bool(os.environ.get("SCREEN_UPRIGHT"))

def view_with(tablet, area):
    view = tablet.view
    plan = view.state.plan
    areas = (area.plan, *plan.areas[1:])
    plan = plan.model_copy(update={"areas": areas})
    state = changed(view.state, areas={**view.state.areas, area.plan.name: area}, active=area.plan.name, plan=plan)
    return replace(view, state=state)

def test_look(tmp_path):
    import dataclasses
    with c.begin_tablet(tmp_path) as hands:
        t = hands.tablet
        frozen = view_with(t, wall_area())
        t._shown = lambda view: None
        t.view = frozen
        for theme in ("day", "dark", "sun"):
            t.choose(theme=theme)
            t.view = frozen
            hands.go("wall")
            hands.frames(6)
            hands.picture(OUT / f"{'up-' if up else ''}wall-{theme}.png")
        t.choose(theme="day", text=1.5)
        hands.frames(6)
        hands.picture(OUT / f"{'up-' if up else ''}wall-150.png")
        t.choose(text=1.0)
        if up:
            return
        t.view = view_with(t, wall_area(wall_plan(grid={"rows": 12, "columns": 9})))
        t.view = frozen2 = t.view
        hands.go("wall"); t.redraw(); hands.frames(6)
        hands.picture(OUT / "small.png")
        print([k.named for k in hands.keys()])
        hands.touch(hands.key("the whole wall"), 0.1, 0.1)
        t.view = frozen2
        hands.frames(6)
        hands.picture(OUT / "part.png")
        print([k.named for k in hands.keys()])
        t.choose(hand="left"); t.view = frozen; hands.go("wall"); t.redraw(); hands.frames(6)
        hands.picture(OUT / "left.png")
