# The wall as it is drawn, a piece's record, laying a wall out, and the day's history.
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
