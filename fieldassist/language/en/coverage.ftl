# Mortar contact behind a tile, and the verdict of a lift and of an area.

coverage-chosen-not-drawn = Lifted tiles are chosen, not drawn at random: good lifts guide the work and prove nothing about the whole area.

coverage-no-interval = The standard asks for a tile to be lifted periodically and gives no interval.
coverage-void-practice = Common practice allows no void over { $void } and none within { $edge } of an edge here either.
coverage-back-butter = For 95 %, back-butter each tile or choose a notch that reaches it (ANSI A108.5).
coverage-stone-back = Stone is back-buttered with the flat side.
coverage-stone-lifts = Three lifts is taken over from ANSI A108.5, which does not set the contact of stone.
coverage-panel-edges = Edges are supported all the way round by vibrating the perimeter; the { $edge } strip in which no void is accepted is common practice.
coverage-panel-lifts = Three lifts is taken over from ANSI A108.5, which does not cover panels.

coverage-contact-short = contact { $pair-read } is below the { $pair-limit } required
coverage-void-too-large = a void of { $pair-read } is larger than the { $pair-limit } allowed
coverage-void-near-edge = a void { $pair-read } from the edge lies within the { $pair-limit } that must be clear
coverage-corner-unsupported = a corner is not supported
coverage-unread-void = largest void
coverage-unread-edge = distance from the nearest void to the edge
coverage-unread-corners = corners supported

coverage-nothing-lifted = no tile has been lifted
coverage-lift-first = Lift { $lifts } tiles.
coverage-mean-short = the mean contact { $pair-read } is below the { $pair-limit } required
coverage-lifts-failed = { $failed } of { $lifts } lifts failed; the worst contact is { $worst }
coverage-lifts-open = { $open ->
    [one] { $open } of { $lifts } lifts is not complete
   *[other] { $open } of { $lifts } lifts are not complete
}
coverage-too-few-lifts = { $lifts } of at least { $least } tiles have been lifted
coverage-stop-setting = Stop setting. Take up what failed, scrape, comb again and reset; lift the neighbours until the good ones begin, change notch or back-butter if it repeats, and tell the foreman.
coverage-read-the-rest = Read what is missing at the lifts that are not complete.
coverage-lift-more = { $missing ->
    [one] Lift { $missing } more tile, well apart.
   *[other] Lift { $missing } more tiles, well apart.
}
coverage-go-on = Go on, and lift again after every change of notch, batch or installer.

coverage-no-gap = no gap was given; measure it with a straightedge and feelers at one place at least
coverage-no-contact-at-all = no contact at all says nothing about the gap; the tile never reached the mortar
coverage-full-contact = full contact says only that the gap is { $bed } or less
coverage-solid-by-area = the tile of { $area } reaches { $limit }
coverage-solid-by-mass = { $mass } kg/m² is over 70 % of what the background carries ({ $most } kg/m²)
coverage-not-solid = the tile is small, and light for its background

# -- as computations by name
# Titles and summaries.
coverage-title-required-coverage = the mortar contact that a setting requires
coverage-summary-required-coverage = Least contact, largest void, edges and corners, with the clause and where editions differ. The job's own specification goes first.
coverage-title-lift-verdict = judges one lifted tile
coverage-summary-lift-verdict = Contact, largest void, distance of the nearest void to the edge, corners. What is required and was not read is named, and the verdict is then not complete.
coverage-title-area-verdict = judges an area by all its lifts, and says what to do next
coverage-summary-area-verdict = Mean and worst contact, the least number of lifts, and the rule. Lifts are chosen and not drawn: good ones guide the work and prove nothing about the whole area.
coverage-title-allowed-void = how much of one tile's back may stay without mortar
coverage-summary-allowed-void = All voids together, for a contact that is required.
coverage-title-greatest-contact = the most contact that the mortar can make over the gap
coverage-summary-greatest-contact = An upper bound: trapped air and ridges that did not collapse make it less.
coverage-title-gap-from-contact = the gap that a measured contact implies
coverage-summary-gap-from-contact = For a bed of known volume. Full contact says only that the gap is no more than the bed.
coverage-title-bed-for-contact = the least bed that can reach a contact over a gap
coverage-summary-bed-for-contact = The mortar per area, as a depth, below which the contact cannot be reached however well the tile is set.
coverage-title-solid-bed = whether British practice wants a wall tile bedded solidly
coverage-summary-solid-bed = From 0.1 m² up, and smaller tile that is heavy for its background. Interior walls.

# What is asked for.
coverage-in-product = what is set
coverage-in-place = dry (indoors), wet (indoors, such as a shower) or exterior
coverage-in-surface = wall or floor
coverage-in-contact = share of the back covered with mortar
coverage-in-largest-void = area of the largest void
coverage-in-void-to-edge = from the edge to the nearest void
coverage-in-corners-supported = whether every corner has mortar
coverage-in-lifts = the contact of each lift, with passed, failed or not complete where something else decided it
coverage-in-rule = hold every lift to the limit, or their mean only, as the standard's words have it
coverage-in-tile = the two sides of the tile
coverage-in-contact-allowed-void = contact required
coverage-in-bed = mortar per area, as a depth (see `bed`)
coverage-in-gap = height between tile and base, at one place or several
coverage-in-contact-gap-from-contact = contact measured on the lifted tile
coverage-in-gap-bed-for-contact = mean height between tile and base
coverage-in-contact-bed-for-contact = contact wanted
coverage-in-mass = mass of the tile per area
coverage-in-capacity = what the background carries

# What is told.
coverage-out-least-contact = least contact
coverage-out-largest-void-allowed = largest void allowed
coverage-out-strip-along-the-edges-free-of-voids = strip along the edges free of voids
coverage-out-every-corner-supported = every corner supported
coverage-out-least-lifts = least lifts
coverage-out-mean-contact = mean contact
coverage-out-worst-contact = worst contact
coverage-out-lifts = lifts
coverage-out-next-step = next step
coverage-out-void-allowed-in-all = void allowed in all
coverage-out-greatest-contact = greatest contact
coverage-out-mean-gap = mean gap
coverage-out-least-bed = least bed
coverage-out-solid-bed-required = solid bed required
coverage-out-mass-above-which-a-small-tile-needs-it = mass above which a small tile needs it
coverage-no-rule = no rule gives one
coverage-caution-field = Wet cement burns skin and eyes: gloves and goggles. Local codes, the product's data sheet and the site's own safety plan come first.
