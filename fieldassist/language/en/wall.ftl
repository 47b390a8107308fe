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
wall-signed = Signed { $at }
wall-area = { CAPITAL($area) }
wall-tag-batch = batch { $batch }
wall-tag-sides = { $sides ->
    [both] both sides
   *[one] one side
}
wall-tag-notch = { $depth } { $family }
wall-tag-part = { $part }
wall-tag-angle = at { $angle }°

# --- a piece's record
wall-piece-title = Piece { $number }
wall-no-piece = No such piece
wall-state = { $state ->
    [covered] Covered
    [lifted-good] Lifted, good
    [lifted-failed] Lifted, failed
    [suspect] Suspect
    [accepted] Accepted
    [taken-off] Taken off
    [not-yet-covered] Not yet covered
   *[not-set] Not set
}
wall-about-why = why
wall-about-set = set
wall-about-seen = record
wall-about-place = place
wall-about-batch = batch
wall-about-method = method
wall-about-back = since
wall-about-lift = lift
wall-set-by = { PERSON($name) }, { $at }
wall-batch = { $lot ->
    [none] { $batch }
   *[other] { $batch }, lot { $lot }
}
wall-lift = { $verdict ->
    [passed] { $lift }, passed, { $came }
    [failed] { $lift }, FAILED, { $came }
    [not-complete] { $lift }, not complete, { $came }
   *[open] { $lift }, not judged yet, { $came }
}
wall-read = Readings: press one for its history
wall-reading = { $name }: { $value }
wall-reading-corrected = corrected
wall-history = History
wall-lift-it = Lift it
wall-photos = { $count ->
    [one] One photo
   *[other] { $count } photos
}
wall-to-wall = To the wall

# --- the day's history
wall-every-area = Every area
wall-everybody = Everybody
wall-failures = Failures
wall-nothing = Nothing of this happened yet.
wall-earlier = Earlier
wall-later = Later
wall-line-at = { $at }{ $name ->
    [none] { "" }
   *[other] { " " }{ PERSON($name) }
}
wall-struck = Counts no more: { $told }
wall-correct = Correct
wall-correct-event = correct event { $event }
wall-correct-yes = Yes, keep it
wall-back = Back

# --- laying a wall out
wall-layout-no-wall = The wall needs a width and a height.
wall-layout-no-piece = The piece needs a length and a width.
wall-layout-too-many = That is more than { $most } pieces in a row: check the figures.
wall-layout-niche-off = The niche { $name } does not lie on this wall.
wall-layout-thin = The narrowest cut is { $cut }, less than half a piece: try another start.
wall-layout-title = Lay out
wall-no-area = No such area
wall-layout-comes-to = { $pieces } pieces, { $of }
wall-layout-whole = whole
wall-layout-none = –
wall-layout-keep = Use this layout
wall-layout-not-yet = Enter what is missing first.
wall-layout-begun = This area is begun: it stays as it was planned.
wall-layout-niche-more = One more niche
wall-layout-niche-away = Take away: { $name }
wall-layout-niche-name = niche
wall-layout-niche-left = Niche: from the left edge
wall-layout-niche-bottom = Niche: from below
wall-layout-niche-width = Niche: its width
wall-layout-niche-height = Niche: its height
wall-layout-field-across = wall, width
wall-layout-field-up = wall, height
wall-layout-field-length = piece, length
wall-layout-field-width = piece, width
wall-layout-field-joint = joint
wall-layout-field-lies = long edge
wall-layout-field-start = across
wall-layout-field-up-from = upwards
wall-layout-field-first-row = lowest row
wall-layout-field-niches = niches
wall-layout-lies-level = level
wall-layout-lies-upright = upright
wall-layout-start-left = from the left
wall-layout-start-joint = middle joint
wall-layout-start-piece = middle piece
wall-layout-start-right = from the right
wall-layout-up-floor = from below
wall-layout-up-top = from the top
wall-lay-out = Lay it out
wall-layout-niches = { $count ->
    [0] none
    [one] one
   *[other] { $count } of them
}
