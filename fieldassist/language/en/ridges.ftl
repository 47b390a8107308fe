# Notched trowels: ridges, bed, slide, air.

ridges-not-square = a square notch is as deep as it is wide, and this one is { $width } by { $depth }; call it rectangular
ridges-too-shallow-to-be-round = a notch with a round end is at least half as deep as it is wide, and this one is { $width } wide and { $depth } deep; call it half-round
ridges-do-not-lean = the ridges of a { $family } notch do not lean; leave the lean out
ridges-lean-outside = a lean of { $lean }° is outside 0 to 60°; measure it on the trowel
ridges-no-tooth = notches { $width } wide at { $pitch } centres leave no tooth between them
ridges-too-few-points = { $points } points do not draw a curve; use at least 4
ridges-trowel-angle-outside = a trowel held at { $angle }° is outside 30 to 90°: flatter than that it smears and leaves no ridge of its notch; hold it at 45° or steeper
ridges-filling-outside = a filling factor of { $filling } is outside 0 to 1.5; check the mass balance it came from
ridges-back-notch-without-back = a notch for the tile's back was given, and only the base is combed; say which holds
ridges-crossed = ridges on the tile across those on the base close the air in between them and leave voids; comb both sides parallel, along the tile's short side
ridges-profile-takes-all = the tile's back profile of { $profile } takes all the { $mortar } of mortar; back-butter the tile or take a larger notch
ridges-filling-unbelievable = the bags give { $factor } of what the notch can leave, and 0.3 to 1.5 is believable; check the bag count, the area, the notch and the trowel angle
ridges-edge-over-table = the table of 1979 was not meant for an edge of { $edge }; ask for advice by gap
ridges-no-notch = no notch was given to choose from
ridges-contact-outside = a required contact of { $contact } is outside 0 to 100 %

ridges-slide-and-back = Push { $stroke } across the ridges and { $stroke } back.
ridges-slide-one-way = Push { $stroke } across the ridges, one way, the way they lean.
ridges-slide-note = A trade article asks for at least one notch width ({ $width }). Where the joint leaves no room for the stroke, lay the tile { $stroke } beside its place and push it there.
ridges-air-right = Right: the air leaves the short way, { $way }.
ridges-air-long = Comb along the short side: this way the air has { $way } to go, { $times } times the { $short } it needs.

ridges-gap-over-limit = the low places need { $pair-read } and the mortar allows { $pair-limit }: flatten the base first, mortar is not for levelling
ridges-too-little-mortar = too little mortar: { $bed } reach at most { $pair-read } over a gap of up to { $gap }, and { $pair-limit } is required
    .ear = too little mortar: at most { $pair-read }, and { $pair-limit } is required
ridges-does-not-collapse = a ridge { $height } tall and this square does not collapse by hand: vibrate it
ridges-near-limit = near the limit: { $left } left
ridges-fills-the-gap = { $bed } of bed can reach { $contact } over a gap of up to { $gap }, within the mortar's limits

# -- as computations by name
# Titles and summaries.
ridges-title-ridges = what one pass of a notched trowel leaves
ridges-summary-ridges = Section and height of the ridge, ridges per length, mortar per area and the bed after full collapse. Half the notch depth holds for a trowel held upright only: at 45 degrees it is about a third.
ridges-title-notch-outline = the outline of a notch, corner by corner
ridges-summary-notch-outline = For a drawing or a gauge. The ridge-collapse outline is our model: its real curve is not published.
ridges-title-bed = the bed after full collapse, from notch, sides, skim coat and back profile
ridges-summary-bed = Mortar is neither made nor lost: all that was combed, plus the skim coat, less what the tile's back profile takes. Crossed ridges are refused, with the reason.
ridges-title-slide = how far to push the tile across the ridges
ridges-summary-slide = A notch width or half a pitch, whichever is more: there and back, or one way where the ridges lean.
ridges-title-air-path = how far the air has to go from under the tile
ridges-summary-air-path = Compares the direction of the ridges with the best one, along the tile's short side.
ridges-title-two-sided = whether combing base and tile stays inside the mortar's limits
ridges-summary-two-sided = The bed of both passes against the least and the greatest bed of the mortar.
ridges-title-collapse-effort = how hard a ridge is to collapse by hand
ridges-summary-collapse-effort = An index to compare notches with: taller and squarer is harder, leaning is easiest. The order is common practice; the index and its limit are judgement.
ridges-title-notch-depth = the notch depth an old table gives for a tile's edge
ridges-summary-notch-depth = Written in 1979, long before tile of a metre and more: up to 600 mm only. For more ask `notch-advice`.
ridges-title-notch-advice = which notch, combed on which sides, fills the gap; and why the others fail
ridges-summary-notch-advice = Takes the tile's warpage and the base's deviation under one tile, and ranks the common notches, or judges yours: too little mortar for the gap, more than the mortar allows, or a ridge too tall to collapse by hand.
ridges-title-filling = your own filling factor, from the bags you used
ridges-summary-filling = The share of the notch that becomes ridge, so that the geometry agrees with the mass balance; enter it as `filling` elsewhere.

# What is asked for.
ridges-in-notch = a common notch by its name (or describe yours with the five below)
ridges-in-notch-family = shape of your own notch
ridges-in-notch-width = opening of one notch along the trowel's edge
ridges-in-notch-depth = depth of the notch; a square one has its width
ridges-in-notch-spacing = tooth left between two notches
ridges-in-notch-pitch = centre to centre of two notches, in place of the tooth
ridges-in-notch-lean = lean of a slanted or ridge-collapse notch, in degrees
ridges-in-trowel-angle = angle between trowel and base, in degrees; flatter leaves less
ridges-in-filling = share of the notch that becomes ridge; see `filling` for your own
ridges-in-points = points on a curved end, 4 to 360
ridges-in-sides = comb the base only, or base and tile
ridges-in-back-notch = common notch for the tile's back, when it is another one
ridges-in-skim = coat keyed into the tile's back with the flat side
ridges-in-back-profile = mean depth of the grooves in the tile's back, which fill first
ridges-in-direction = ridges on the tile parallel to those on the base, or crossed
ridges-in-tile = the two sides of the tile
ridges-in-comb-angle = ridges against the short side, in degrees: 0 along the short side, 90 along the long one
ridges-in-edge = the tile's longest edge
ridges-in-warpage = warpage of the tile
ridges-in-substrate = deviation of the base under one tile
ridges-in-contact = contact required, see `required-coverage`
ridges-in-setting = how ridges are collapsed
ridges-in-tile-notch-advice = the tile's two sides, for the way of the air
ridges-in-hand-limit = greatest effort by hand, see `collapse-effort`
ridges-in-implied-bed = the bed that the bags imply, see `mass-balance`

# What is told.
ridges-out-ridge-section = ridge section
ridges-out-ridge-height = ridge height
ridges-out-pitch = pitch
ridges-out-ridges-per-length = ridges per length
ridges-out-mortar-per-area = mortar per area
ridges-out-bed-after-full-collapse = bed after full collapse
ridges-out-notch-section = notch section
ridges-out-pitch-of-the-trowel = pitch of the trowel
ridges-out-ridges-lean = ridges lean
ridges-out-travel = travel
ridges-out-stroke = stroke
ridges-out-one-way-only = one way only
ridges-out-instruction = instruction
ridges-out-longest-valley = longest valley
ridges-out-farthest-way-out = farthest way out
ridges-out-the-short-way = the short way
ridges-out-times-longer-than-it-need-be = times longer than it need be
ridges-out-advice = advice
ridges-out-bed = bed
ridges-out-effort-as-the-height-of-a-square-ridge = effort, as the height of a square ridge
ridges-out-most-by-hand = most by hand
ridges-out-collapses-by-hand = collapses by hand
ridges-out-notch-depth = notch depth
ridges-out-slide-with-the-first = slide with the first
ridges-out-filling-factor = filling factor
ridges-notch-twice = give a notch by its name or describe one, not both; leave out notch or { $input }
ridges-notch-half-told = give notch, such as 'half inch square', or describe one: notch-family, notch-width, notch-depth, and either notch-spacing or notch-pitch
ridges-too-many-points = { $points } points are more than a drawing needs; ask for { $most } at most
ridges-out-corner-along = corner { $number } along the edge
ridges-out-corner-into = corner { $number } into the trowel
ridges-out-method = { $sides ->
    [both] { $rank }. { $notch }, both sides
   *[one] { $rank }. { $notch }, one side
}
ridges-out-ranked-works = { $rank }. works
ridges-out-ranked-bed = { $rank }. bed
ridges-out-ranked-greatest-contact = { $rank }. greatest contact
ridges-near = { $reasons }
ridges-works = works: { $reasons }
ridges-fails = fails: { $reasons }
ridges-out-way-of-the-air = way of the air
