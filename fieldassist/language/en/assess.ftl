# What plan and state imply for people.

# --- what is assumed, each in one sentence with its reason -------------------------------------------------------

assess-assumed-standing = One stands on a dry, clear floor, does not kneel, and lifts with both hands.
assess-assumed-framed = A frame keeps the panel stiff, and its weight comes on top: a bare panel bends, and then no figure holds.
assess-assumed-single-limit = Each may lift { $value } alone, held close between waist and knuckles: HSE's filter for a man.
assess-assumed-wall-from = It is picked up from the floor.
assess-assumed-wall-to = It is set down with the hands { $value } up, at the shoulder: the highest row reached from the floor.
assess-assumed-floor-from = It is picked up from a stack, the hands { $value } up.
assess-assumed-floor-to = It is set down on the floor.
assess-assumed-reach = Where it is picked up the hands are { $value } out from between the ankles: it lies flat, its short edge to the body.
assess-assumed-end-reach = Where it is set down the hands are { $value } out from between the ankles: it lies flat, its short edge to the body.
assess-assumed-turn = The feet turn, not the trunk.
assess-assumed-pace = { $value } lifts a minute, one in five minutes.
assess-assumed-duration = There is such lifting for up to 8 h a day.
assess-assumed-grip = It is held by its bare edges.
assess-assumed-warpage = The piece is flat.
assess-assumed-base = The base is true.
assess-assumed-skim = No coat is keyed into the back.
assess-assumed-vibrated = The ridges are collapsed with a vibrator, as it is a panel.
assess-assumed-waste = { $value } of what ends up behind the tile is wasted on top.
assess-assumed-slake = Each batch slakes for up to { $value }: the data sheet does not say.
assess-assumed-dust-place = The task is done indoors.
assess-assumed-dust-held = What was measured held for all minutes noted of that task.
assess-assumed-dust-clean-air = The rest of 8 h was clean air.

# --- who may carry a piece ---------------------------------------------------------------------------------------

assess-handling-one = { $weight }: one person may lift it like this, up to { $limit }.
assess-handling-team = { $people ->
    [2] { $weight }: two people, together up to { $together }.
   *[3] { $weight }: three people, together up to { $together }.
    }
assess-handling-too-heavy = { $weight }: too heavy by hand, three people together lift up to { $together }. Use a frame on a trolley, a hoist or a panel lifter, or have the lift assessed.
assess-handling-not-judged = { $weight }: no figure holds for this lift. Change what stands in the way, or have the lift assessed.

assess-handling-and-alone = { $verdict } { $alone }

assess-alone-within = Alone, standing, with both hands: up to { $limit }. Lifting index { $index }: within the limit.
assess-alone-above = Alone, standing, with both hands: up to { $limit }. Lifting index { $index }: above the limit. Bring it closer, slow down or get help.
assess-alone-far-above = Alone, standing, with both hands: up to { $limit }. Lifting index { $index }: over three times the limit, risk is raised for nearly everyone. Do not lift it so.
assess-alone-nothing = One person alone may lift nothing in this way.
assess-alone-no-figure = Alone: no figure for this lift.
assess-governs-start = The equation's limit is { $limit }, where it is picked up; the piece travels { $travel } up or down.
assess-governs-end = The equation's limit is { $limit }, where it is set down; the piece travels { $travel } up or down.

assess-suction-not-known = Suction cups: enter what they hold together, upright, to see whether it is twice the load.
assess-suction-holds = Suction cups hold { $factor } times the load, { $required } times is asked for: enough.
assess-suction-short = Suction cups hold { $factor } times the load, { $required } times is asked for: NOT enough.

# --- method ------------------------------------------------------------------------------------------------------

assess-try-vibrated = the same notch, collapsed with a vibrator
assess-try-plan = { $sides ->
    [both] { $name } ({ $width } wide, { $depth } deep, { $spacing } apart), combed on base and back: bed { $bed }; on the plan
   *[one] { $name } ({ $width } wide, { $depth } deep, { $spacing } apart), combed on the base only: bed { $bed }; on the plan
    }
assess-try-usual = { $sides ->
    [both] { $name } ({ $width } wide, { $depth } deep, { $spacing } apart), combed on base and back: bed { $bed }; a usual size
   *[one] { $name } ({ $width } wide, { $depth } deep, { $spacing } apart), combed on the base only: bed { $bed }; a usual size
    }

assess-reaches = { $contact }
assess-reaches-over = over { $contact }

# --- test tiles --------------------------------------------------------------------------------------------------

assess-next-lot = By lot after a tile is set, one in { $one-in } on average: nobody knows which. Besides it the first of a run, the last out of an old batch and the last of a run.
assess-next-now = Due now: { $count ->
    [one] tile { $tiles }.
   *[other] tiles { $tiles }.
}
assess-next-none = This area's checklist lifts no test tile.
assess-next-finished = The area is finished: no more tiles are lifted here.
assess-next-due = Due once the next round of “{ $section }” is done: { $why }.
assess-next-after = { $more ->
    [one] Due after one more round of “{ $section }”: { $since } of { $every } are set since the last lift.
   *[other] Due after { $more } more rounds of “{ $section }”: { $since } of { $every } are set since the last lift.
    }
assess-next-change = Due at once after a change of { $changes }.

# --- mortar ------------------------------------------------------------------------------------------------------

assess-pace-not-known = not known: enter what is set in an hour
assess-no-bag-used = no bag was used, and tiles are recorded as set
assess-bags-rest-on = { $pieces ->
    [one] one tile recorded as set, { $area }; { $bed } of mortar by notch, trowel angle and sides combed; { $bag } from a bag. Assumed: { $assumed }
   *[other] { $pieces } tiles recorded as set, { $area }; { $bed } of mortar by notch, trowel angle and sides combed; { $bag } from a bag. Assumed: { $assumed }
    }
assess-no-prediction-nothing-set = no prediction: no tile is recorded as set
assess-no-prediction-no-bed = no prediction: the trowel's bed cannot be computed
assess-no-prediction-no-bag = no prediction: the plan does not say what a bag weighs

# --- times -------------------------------------------------------------------------------------------------------

assess-time-slake = Slake
assess-time-pot-life = Pot life
assess-time-open-time = Open time
assess-time-cure-to-grout = Before it is grouted
assess-time-cure-to-traffic = Before light traffic

# --- what is entered ---------------------------------------------------------------------------------------------

assess-not-known = { $what } is not known; enter it first.
assess-no-such-choice = { $what }: there is no { $word }; there is { $choices }.
assess-another-dimension = { $what }: { $value } does not measure it; write a number with its unit, such as { $example }.
assess-unbelievable = { $value } cannot be right here: { $least } to { $greatest } is. Nothing was changed; type it again, or leave it.

assess-field-family = Notch shape
assess-field-depth = Notch depth
assess-field-width = Notch width
assess-field-spacing = Tooth between
assess-field-angle = Trowel angle
assess-field-sides = Combed
assess-field-skim = Coat keyed in back
assess-field-setting = Collapsed
assess-field-length = Piece length
assess-field-breadth = Piece width
assess-field-thickness = Piece thickness
assess-field-warpage = Piece warpage
assess-field-weighed = Piece on a scale
assess-field-base = Base off by
assess-field-mortar = Mortar
assess-field-least = Least bed
assess-field-most = Greatest bed
assess-field-area = Area to set
assess-field-bag = One bag
assess-field-bag-yield = A bag makes
assess-field-water = Water for a bag
assess-field-waste = Waste
assess-field-hourly = Set in an hour
assess-field-single-limit = One person lifts
assess-field-cups = Suction cups hold
assess-field-reach = Hands out, picking up
assess-field-height = Hands up, picking up
assess-field-end-reach = Hands out, setting down
assess-field-end-height = Hands up, setting down
assess-field-turn = Trunk turned
assess-field-pace = Lifts a minute
assess-field-duration = Lifting goes on
assess-field-grip = Grip
assess-field-conditions = What holds for this lift

assess-hint-depth = Square to the trowel's edge.
assess-hint-width = Opening along the trowel's edge.
assess-hint-spacing = From one notch to the next, along the edge.
assess-hint-square = A square notch is as wide as it is deep: both change.
assess-hint-angle = Degrees between trowel and base.
assess-hint-skim = Put on with the flat side; 0 for none.
assess-hint-warpage = Greatest gap under the piece, on a flat table.
assess-hint-weighed = With all that is lifted with it.
assess-hint-base = Gap under a straightedge, under one piece.
assess-hint-least = From the mortar's data sheet.
assess-hint-most = From the mortar's data sheet.
assess-hint-bag-yield = Mixed mortar, from the data sheet.
assess-hint-water = From the data sheet.
assess-hint-waste = Of what ends up behind the tile.
assess-hint-hourly = Combed and set by the crew at work here.
assess-hint-single-limit = What each may lift alone.
assess-hint-cups = All together, upright, low end of the vacuum.
assess-hint-reach = Level, from between the ankles forward to the hands.
assess-hint-height = From the floor up to the hands.
assess-hint-end-reach = Level, from between the ankles forward to the hands.
assess-hint-end-height = From the floor up to the hands.
assess-hint-turn = Degrees: 0 for straight ahead, 90 for sideways.
assess-hint-pace = Counted over 15 minutes and divided by 15.

assess-option-family-square = square
assess-option-family-rectangular = rectangular
assess-option-family-U = U, round end
assess-option-family-V = V
assess-option-family-slanted = slanted, ridges lean
assess-option-family-ridge-collapse = ridge-collapse, leans and curves
assess-option-family-half-round = half-round
assess-option-sides-one = on the base only
assess-option-sides-both = on the base and on the back
assess-option-setting-by-hand = by hand
assess-option-setting-vibrated = with a vibrator
assess-option-mortar-thin-set = thin-set
assess-option-mortar-large-and-heavy-tile = large and heavy tile
assess-option-duration-short = up to 1 h
assess-option-duration-moderate = up to 2 h
assess-option-duration-long = up to 8 h
assess-option-grip-good = good: handles
assess-option-grip-fair = fair: a fair hold
assess-option-grip-poor = poor: bare edges
assess-option-conditions-kneeling = kneeling
assess-option-conditions-seated = seated
assess-option-conditions-one-hand = one hand
assess-option-conditions-more-than-one-person = more than one person
assess-option-conditions-carrying = carrying
assess-option-conditions-confined-space = confined space
assess-option-conditions-unstable-load = unstable load
assess-option-conditions-slippery-floor = slippery floor
assess-option-conditions-pushing-or-pulling = pushing or pulling
assess-option-conditions-hot-or-cold-air = hot or cold air
