# The wall as it is drawn, a piece's record, laying a wall out, and the day's history.
wall-title = Wall
wall-piece = piece { $number }
wall-whole = the whole wall
wall-lift-this = Lift this
wall-progress-of = of { $of }
wall-surface = { $done } of { $of }
wall-not-laid-out = Not laid out
wall-suspect = { $numbers } suspect
wall-failed = { $numbers } failed
wall-others = { $count } more areas
wall-no-day = No day is open
wall-next-day = Day
wall-next-start = { $begun ->
    [yes] Go on: { CAPITAL($area) }
   *[no] Start: { CAPITAL($area) }
}
wall-next-lift = Lift piece { $number }
wall-next-work = Go on: Work
wall-signed = Signed by { PERSON($name) }
wall-area = { CAPITAL($area) }
wall-tag-batch = batch { $batch }
wall-tag-sides = { $sides ->
    [both] both sides
   *[one] one side
}
wall-tag-notch = { $depth } { $family }
wall-tag-part = { $part }
wall-tag-angle = at { $angle }°

# --- laying a wall out
wall-layout-no-wall = The wall needs a width and a height.
wall-layout-no-piece = The piece needs a length and a width.
wall-layout-too-many = That is more than { $most } pieces in a row: check the figures.
wall-layout-niche-off = The niche { $name } does not lie on this wall.
wall-layout-thin = The narrowest cut is { $cut }, less than half a piece: try another start.
