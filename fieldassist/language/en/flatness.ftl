# Flatness of the base, lippage, joints, offset, movement joints.

flatness-gap-too-large = a gap of { $pair-read } over { $over } is more than the { $pair-limit } allowed
flatness-unread-gap = worst gap over { $over }
flatness-step-too-large = a step of { $pair-read } is more than the { $pair-limit } allowed
flatness-joint-too-narrow = a joint of { $pair-read } is narrower than the { $pair-limit } required
flatness-offset-too-large = rows shifted by { $pair-read } are beyond one third of the side ({ $pair-limit })
flatness-movement-joints-too-far-apart = movement joints { $pair-read } apart are farther than the { $pair-limit } allowed
flatness-movement-joint-too-narrow = a movement joint of { $pair-read } is narrower than the { $pair-limit } required

flatness-din-span-outside = DIN 18202 table 3 runs from 0.1 m to 15 m; { $span } lies outside. Measure over a distance within it.
flatness-joint-without-lippage = ANSI A108.02 gives lippage for joints of { $pair-limit } and wider, and allows none narrower; { $pair-read } lies below. Widen the joint, or use the limit of the job's own standard.
flatness-bond-without-edge = a running bond's joint depends on the longest edge of the tile; give its length
flatness-side-over-british-figures = the British figures end at a side of 3 m; { $side } needs the maker's joint width.
flatness-offset-beyond-side = a shift of { $offset } does not lie on a side of { $side }; measure it again
flatness-inside-too-far-apart = movement joints indoors are at most { $pair-limit } apart, and these are { $pair-read }; set them closer.
flatness-outside-too-far-apart = movement joints outdoors are at most { $pair-limit } apart, and these are { $pair-read }; set them closer.
flatness-no-temperature-range = an exterior movement joint depends on the yearly range of temperature; give it

# -- as computations by name
# Titles and summaries.
flatness-title-base-flatness = how flat the base must be, and whether it is
flatness-summary-base-flatness = The greatest gap under a straightedge, by standard and size of tile, before tile is set.
flatness-title-din-18202 = the greatest gap of DIN 18202 between two points at any distance
flatness-summary-din-18202 = Straight line between the columns of its table 3, to whole millimetres.
flatness-title-lippage = the greatest step between neighbouring edges, and whether yours holds
flatness-summary-lippage = By joint width, plus the warpage that the tile itself has.
flatness-title-least-joint = the narrowest joint that the tile allows
flatness-summary-least-joint = Three times the facial variation, never under 1/16 in, and wider in a running bond of large tile.
flatness-title-least-joint-british = the narrowest joint by face size in the British code
flatness-summary-least-joint-british = 2, 3 or 5 mm, up to a side of 3 m.
flatness-title-offset = how far rows may be shifted in a running bond
flatness-summary-offset = One third of a side over 15 in (older texts: 18 in). A shift counts from the nearer end.
flatness-title-movement-joints = movement joints: how far apart, how wide, and how to share out a run
flatness-summary-movement-joints = They are due besides over every joint of the base, at changes of plane or material, and where the field meets what restrains it.

# What is asked for.
flatness-in-standard = the standard the job follows
flatness-in-longest-edge = the tile's longest edge; without it the stricter limit
flatness-in-product = what is set
flatness-in-span = the straightedge used, for DIN 18202
flatness-in-gap = worst gap found
flatness-in-short-gap = worst gap over the short distance
flatness-in-row = 2 base for tile, 3 finished floor, 4 stricter, 6 finished wall, 7 stricter
flatness-in-span-din-18202 = distance of the measuring points, 0.1 to 15 m
flatness-in-rounded = to whole millimetres, as the standard is read
flatness-in-joint = width of the joint
flatness-in-warpage = warpage of the tile
flatness-in-step = the step measured
flatness-in-facial-variation = largest face less smallest face, measured
flatness-in-longest-edge-least-joint = the tile's longest edge, needed for a running bond
flatness-in-running-bond = rows are shifted
flatness-in-edges = how the edges were made
flatness-in-warpage-least-joint = warpage along the longest edge
flatness-in-joint-least-joint = the joint wanted, to be judged
flatness-in-tile = the two sides of the tile
flatness-in-side = the side along which rows are shifted
flatness-in-offset = the shift between two rows
flatness-in-edition = edition of the text
flatness-in-setting = where
flatness-in-spacing = their distance; without it the greatest allowed
flatness-in-temperature-range = hottest less coldest surface of the year, needed for the width outdoors
flatness-in-run = length of a run, to be shared out in equal bays
flatness-in-width = the width you have, to be judged

# What is told.
flatness-out-greatest-gap = greatest gap
flatness-out-under-a-straightedge-of = under a straightedge of
flatness-out-and-greatest-gap = and greatest gap
flatness-out-within-any = within any
flatness-out-greatest-step = greatest step
flatness-out-least-joint = least joint
flatness-out-greatest-offset = greatest offset
flatness-out-movement-joints-every = movement joints every
flatness-out-at-most-every = at most every
flatness-out-least-width-of-the-joint = least width of the joint
flatness-no-offset-limit = no limit for a side of this length
flatness-one-third = one third of the side ({ $limit })
flatness-out-joints = joints
flatness-out-length-of-a-bay = length of a bay
