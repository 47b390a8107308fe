# Weight and lifting.

lifting-density-outside = { $density } kg/m³ is no density of tile or stone (1000 to 4000, porcelain about 2350); check the unit, or weigh a piece.
lifting-nobody = nobody is lifting; give the single limit of each person
lifting-nobody-here = nobody is here to lift; count who is there
lifting-team-too-large = a team of { $people } is unlikely to work (HSE L23): people get in each other's way and the load is not shared. Use a lifting frame, a trolley or a hoist.
lifting-share-over-weakest = An even share of { $share } is more than the { $weakest } that the weakest may lift alone: keep the load under what that person can hold, or change the team.
lifting-over-any-team = { $weight } is more than three people may lift together ({ $most } at { $each } each), and nothing published lets a fourth count. Use a lifting frame on a trolley, a hoist or a panel lifter, or have the lift assessed.
lifting-cut-for-pace = { $cut } for { $rate } lifts a minute
lifting-cut-for-twist = { $cut } for a twist of { $twist } degrees

lifting-check-pads = Pads clean and undamaged, tile face dry, smooth and free of dust.
lifting-check-gauge = Gauge or plunger in its range, and looked at again while carrying.
lifting-check-hold = Lift a hand's width and hold before you carry; nobody under the panel.
lifting-check-texture = Never on textured or cracked tile.
lifting-no-circuit = the lifter has no circuit; give what each circuit or cup holds
lifting-one-circuit = one vacuum circuit; on a building site a hoisted lifter needs two, each able to hold alone
lifting-holds-too-little = { $figure ->
    [rated] { $whose ->
        [weaker] the weaker circuit's working load of { $held } is { $factor } times the { $weight } piece; { $required } is required
       *[all] its working load of { $held } is { $factor } times the { $weight } piece; { $required } is required
    }
   *[holding] { $whose ->
        [weaker] the weaker circuit's holding of { $held } is { $factor } times the { $weight } piece; { $required } is required
       *[all] its holding of { $held } is { $factor } times the { $weight } piece; { $required } is required
    }
}

lifting-caution-posture = The figures hold for a load held close, between waist and knuckles, on a clear dry floor: kneeling, reaching, twisting, stairs and wind take much of it away.
lifting-caution-gloves = One person calls the lift; cut-resistant gloves for the edges.
lifting-caution-guide = A guide, not a permit: the site's own assessment and local rules come first.
lifting-alone = { $weight }: one person (alone up to { $most }).
lifting-by-a-team = { $people ->
    [2] { $weight }: two people (together up to { $most }).
    [3] { $weight }: three people (together up to { $most }).
   *[other] { $weight }: { $people } people (together up to { $most }).
}
lifting-too-heavy = { $weight }: too heavy by hand alone (three people together up to { $most }; a fourth can steer, and more get in each other's way). Use a frame on a trolley, a hoist or a panel lifter, or have the lift assessed.
lifting-wait-for-help = With { $present } here, wait for help or use a lifter.
lifting-advice = { $advice }

lifting-not-covered = No figure for this lift: the revised NIOSH lifting equation (Publication 94-110) does not cover it. { $reasons }
lifting-not-covered-kneeling = Kneeling to lift loads knees and back in a way the equation was not made for: stand up, or raise the work.
lifting-not-covered-seated = Lifting while seated was left out of the equation: stand up.
lifting-not-covered-one-hand = The equation is for both hands: take the piece with both, or use a lifter.
lifting-not-covered-more-than-one-person = The equation is for one person: for a team see the team capacity.
lifting-not-covered-carrying = Carrying more than one or two steps was left out: use a trolley, and judge the lift by itself.
lifting-not-covered-confined-space = Where space is tight the posture is not the one the equation assumes: make room or use a lifter.
lifting-not-covered-unstable-load = A load that shifts or bends was left out: stiffen it with a frame.
lifting-not-covered-slippery-floor = The equation assumes firm footing (friction of about 0.4): dry and clear the floor.
lifting-not-covered-pushing-or-pulling = The equation is for lifting and lowering only.
lifting-not-covered-hot-or-cold-air = The equation assumes 19 to 26 °C and 35 to 50 % humidity: plan more rest and fewer lifts.
lifting-day-too-long = { $work } of lifting a day: the revised NIOSH lifting equation (Publication 94-110) does not cover it beyond 8 h. Share the work.
lifting-burst-outside = bursts are averaged up to 15 lifts a minute and 15 min; beyond, enter the lifts a minute as they are (over 15 nothing may be lifted).

lifting-hands-too-far = the hands are farther than { $most } from the ankles: bring the piece closer
lifting-hands-too-high = the hands are higher than { $most }: work from a platform
lifting-travel-too-long = the piece travels more than { $most } up or down: lift it in two stages
lifting-turn-too-far = the trunk turns more than 135 degrees: move the feet or the pile
lifting-too-often = { $rate } lifts a minute are too many for that long: slow down or share the work
lifting-no-limit = no limit was given; compute one for the origin at least
lifting-two-sets-of-constants = metric and US constants are not conversions of each other; compute both ends with one set
lifting-nothing-like-that = Nothing may be lifted like that: { $reasons }.
lifting-index-within = Within the recommended limit.
lifting-index-above = Above the recommended limit, risk is raised for some: bring it closer, slow down or get help.
lifting-index-over-three = Over three times the recommended limit, risk is raised for nearly everyone: do not lift it so.
lifting-no-task = a job needs at least one lifting task; describe one
lifting-task-allows-nothing = one of the tasks allows no load at all; change that task first, then combine

# -- as computations by name
# Titles and summaries.
lifting-title-piece-weight = what one tile or panel weighs
lifting-summary-piece-weight = From its size and density, or weighed. Mesh backing, frame and crate come on top: weigh one piece.
lifting-title-who-may-lift = who may lift a piece by hand, in words
lifting-summary-who-may-lift = One, two or three people, or a lifter.
lifting-title-people-needed = the smallest team that may lift a weight
lifting-summary-people-needed = For people with equal single limits. Refused, with what to do, when no team may.
lifting-title-team-lift = what a team may lift together
lifting-summary-team-lift = Two people two thirds of the sum of what each may lift alone, three people half.
lifting-title-handling-filter = the weight below which a lift needs no fuller assessment
lifting-summary-handling-filter = For one person, the load held close between waist and knuckles; less for frequent lifts and for twisting. A filter, not a limit.
lifting-title-lifting-limit = the recommended weight limit of a lift, and the lifting index (revised NIOSH equation)
lifting-summary-lifting-limit = For one standing person with both hands, up to 8 h a day. Give the other end where the piece is set down with care. Kneeling, carrying, one hand, tight space and what else the equation was not made for is refused.
lifting-title-lifting-frequency = frequency, duration and frequency multiplier for the lifting equation
lifting-summary-lifting-frequency = Averages bursts over 15 minutes, and says which column of the frequency table a stretch of work belongs to.
lifting-title-lifting-job = the composite lifting index of a job of several lifting tasks
lifting-summary-lifting-job = Each task with its load, its lifts per minute and its limit without the frequency multiplier (see `lifting-limit` with few lifts).
lifting-title-hand-distance = how far the hands are from the ankles, when it cannot be measured
lifting-summary-hand-distance = From the depth of the load, for the lifting equation.
lifting-title-suction-margin = whether a suction lifter holds a piece with the margin asked for
lifting-summary-suction-margin = Twice the weight at the low end of the working vacuum; hung from a hoist each of two circuits alone. Upright the cups hold less: enter that figure.

# What is asked for.
lifting-in-length = one side
lifting-in-width = the other side
lifting-in-thickness = its thickness
lifting-in-density = of the fired tile or stone
lifting-in-weighed = mass of one piece on a scale, which goes first
lifting-in-weight = what the piece weighs
lifting-in-single-limit = what each person may lift alone (the default is a filter for a man, load held close)
lifting-in-people = how many are here
lifting-in-weight-people-needed = what is lifted
lifting-in-limits = what each person may lift alone
lifting-in-person = man or woman
lifting-in-lifts-per-minute = how often
lifting-in-twist = turn of the trunk, in degrees
lifting-in-reach = H: hands from the middle between the ankles
lifting-in-height = V: height of the hands where the lift begins
lifting-in-travel = D: how far up or down; otherwise from the two heights
lifting-in-turn = A: turn out of the straight-ahead, in degrees
lifting-in-lifts-per-minute-lifting-limit = F: how often, see `lifting-frequency`
lifting-in-duration = short (1 h), moderate (2 h) or long (8 h), see `lifting-frequency`
lifting-in-grip = most bare tile is poor
lifting-in-to-reach = H where the piece is set down
lifting-in-to-height = V where the piece is set down
lifting-in-to-turn = A where the piece is set down, in degrees
lifting-in-load = what is lifted, for the lifting index
lifting-in-constants = which set of the equation's constants; they are not conversions of each other, so stay with one
lifting-in-rounding = manual: each multiplier to two decimals, as the manual's examples
lifting-in-conditions = what holds here that the equation may not cover
lifting-in-lifts-per-minute-lifting-frequency = how often, within the burst if there is one
lifting-in-burst = how long a burst lasts, up to 15 min
lifting-in-work = how long the lifting goes on
lifting-in-recovery = light work after it
lifting-in-below-waist = the lift begins under 30 in (75 cm)
lifting-in-edition = edition of the manual
lifting-in-tasks = load, lifts per minute and limit of each; add 'greatest 35 lb' for a heaviest load, and 'from waist' where it begins at 30 in (75 cm) or higher
lifting-in-duration-lifting-job = of the whole job
lifting-in-load-depth = depth of the load, front to back
lifting-in-height-hand-distance = height of the hands
lifting-in-weight-suction-margin = the piece with all that hangs from the pads
lifting-in-holding = what each cup or circuit holds in the position used
lifting-in-hoisted = hung from a hoist, not carried by hand
lifting-in-rated = the figures are working loads, with the maker's factor in them

# What is told.
lifting-out-weight = weight
lifting-out-weight-per-area = weight per area
lifting-out-people = people
lifting-out-who = who
lifting-out-together = together
lifting-out-share-of-the-sum-of-single-limits = share of the sum of single limits
lifting-out-filter = filter
lifting-out-cuts = cuts
lifting-out-limit-at-the-origin = limit at the origin
lifting-out-horizontal-multiplier-at-the-origin = horizontal multiplier at the origin
lifting-out-vertical-multiplier-at-the-origin = vertical multiplier at the origin
lifting-out-distance-multiplier-at-the-origin = distance multiplier at the origin
lifting-out-asymmetric-multiplier-at-the-origin = asymmetric multiplier at the origin
lifting-out-frequency-multiplier-at-the-origin = frequency multiplier at the origin
lifting-out-coupling-multiplier-at-the-origin = coupling multiplier at the origin
lifting-out-limit-at-the-destination = limit at the destination
lifting-out-horizontal-multiplier-at-the-destination = horizontal multiplier at the destination
lifting-out-vertical-multiplier-at-the-destination = vertical multiplier at the destination
lifting-out-distance-multiplier-at-the-destination = distance multiplier at the destination
lifting-out-asymmetric-multiplier-at-the-destination = asymmetric multiplier at the destination
lifting-out-frequency-multiplier-at-the-destination = frequency multiplier at the destination
lifting-out-coupling-multiplier-at-the-destination = coupling multiplier at the destination
lifting-out-limit-that-governs = limit that governs
lifting-out-lifting-index = lifting index
lifting-out-lifts-per-minute-to-enter = lifts per minute to enter
lifting-out-duration = duration
lifting-out-frequency-multiplier = frequency multiplier
lifting-out-reach = reach
lifting-out-holds-times-the-weight = holds, times the weight
lifting-out-must-hold-times-the-weight = must hold, times the weight
lifting-out-checks = checks
lifting-caution-hands = Kneeling, reaching, twisting, stairs and wind take away much of what a person may lift. Cut-resistant gloves for the edges; one person calls the lift.
lifting-caution-permit = A guide, not a permit: the site's own assessment and local rules come first; hoists and rigging are for people licensed for them.
lifting-no-team = no team by hand
lifting-no-index = none: nothing may be lifted like that
lifting-half-a-destination = the other end of the lift takes both to-reach and to-height
lifting-no-travel = give travel, how far up or down the piece goes, or to-reach and to-height of the other end
lifting-duration-short = short
lifting-duration-moderate = moderate
lifting-duration-long = long
lifting-out-limit-at-the-origin-because = limit at the origin, because
lifting-out-limit-at-the-destination-because = limit at the destination, because
