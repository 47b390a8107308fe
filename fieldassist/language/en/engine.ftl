# What the checklist answers: what was done, what is refused and why, what is due.

# --- the day
engine-day-open = Day open: { $site }.
engine-day-open-already = This day is open already.
engine-no-day = No day is open. Open one with its plan first.
engine-cannot-write = What was given is no value that can be written down. Nothing was done.
engine-day-signed = The day was signed by { PERSON($name) }: nothing more can be added to it as it is. The foreman can open an addendum.
engine-who-speaks = Say who speaks first: { $names }.
engine-unknown-checklist = Area { $area } asks for the checklist { $checklist }; at hand: { $known }.
engine-unfit-checklist = Area { $area } is { $product }, but the checklist { $checklist } serves { $serves }. Choose another checklist for this area.
engine-product-tile = tile
engine-product-natural-stone = natural stone
engine-product-gauged-panel = gauged panel
engine-unworkable-area = Area { $area } cannot be worked as planned: { $why }
engine-lift-never-complete = Area { $area } could never show a complete lift: its checklist { $checklist } does not ask { $unread }. Add that step to the checklist, or choose another.
engine-nobody-called = Nobody called { PERSON($name) } is in today's crew: { $names }.
engine-speaks = { $role ->
    [foreman] { PERSON($name) }, foreman.
    [owner] { PERSON($name) }, owner.
   *[installer] { PERSON($name) }, installer.
}
engine-how-to-be = { $role ->
    [foreman] Foreman: say '{ $phrase }'.
    [owner] Owner: say '{ $phrase }'.
   *[installer] Installer: say '{ $phrase }'.
}
engine-weather = Weather: { $weather }.
engine-noted = Noted.
engine-nothing-dictated = Event { $event } holds no sound that was kept.
engine-transcribed-already = What was dictated in event { $event } is written out already.
engine-foreman-signs = The foreman signs the day. { $who }
engine-foreman-opens = The foreman opens an addendum. { $who }
engine-open-points = Open: { $points }. Close them, or say '{ $phrase }'.
engine-signed = { $part ->
    [0] The day is signed.
   *[other] Addendum { $part } is signed.
}
engine-not-signed = The day is not signed: it can be worked on as it is.
engine-addendum-open = Addendum { $number } is open. What was signed stays as it is; sign again when this is done.
engine-nothing-signed = Nothing is signed yet. Say '{ $phrase }' to take back the last thing.
engine-no-event = There is no event { $event }; the last one is { $last }.
engine-corrected = Corrected, beside event { $event }.
engine-no-reading = Event { $event } is no reading of that step that counts.
engine-corrects-yes-or-no = { $name }: { $reading } in place of { $was }. Yes or no?
    .ear = { $name }: { $reading } in place of { $was }. Yes?
engine-reading-corrected = { $name }: { $reading } in place of { $was }. Corrected.
engine-nothing-failed = Nothing had failed: what was to cure it falls away.
engine-failure-corrected = the reading was corrected
engine-contradiction = { CAPITAL($point) }: look again, or the foreman says why.
engine-point-answered = Answered: “{ $answer }”. { CAPITAL($point) }.
engine-answer-wanted = Say why it stands: { $point }.
engine-foreman-answers = The foreman answers an open point. { $who }
engine-no-point = { $count ->
    [0] No point is open.
    [one] There is no open point { $point }; one is open.
   *[other] There is no open point { $point }; there are { $count }.
}
engine-point-needs-work = Words do not close this: { $point }.
engine-speak-answer = Say why it stands, then pause: { $point }.

# --- dust
engine-no-dust-entry = Event { $event } is no dust entry that counts; nothing was replaced.
engine-anothers-dust = That entry is { PERSON($name) }'s: { PERSON($name) } replaces it, or make a note.
engine-dust-signed = That entry is signed. Correct it in words, in the addendum.
engine-dust-nothing = { $minutes } of { $task } is nothing to note. Give the minutes again.
engine-dust-too-much = With { $minutes } more, { PERSON($name) } comes to { $total }: that does not fit in a day. Give the minutes again.
engine-dust-noted = { $minutes } of { $task }, { $place }, noted for { PERSON($name) }.
engine-dust-replaced = { $minutes } of { $task }, { $place } in place of { $before } of { $wrong }.
engine-dust-which = Which dusty task? Say { $ways }.
engine-dust-runs = { $task }, { $place } runs for { PERSON($name) } since { $since } already.
engine-dust-started = { $task }, { $place }: minutes run for { PERSON($name) }.
engine-dust-asks = It takes: { $control }; { $respirator }.
engine-dust-none-runs = No dusty task runs for { PERSON($name) }. Say '{ $phrase }' first.
engine-dust-over-signature = It has run since { $since }, over a signature. Give the minutes that it took.
engine-dust-not-so-long = { $minutes } cannot be: it has run for { $most }. Give the minutes again.
engine-dust-taken-out = { $before } of { $wrong } taken out.
engine-dust-place-indoors = indoors
engine-dust-place-outdoors = outdoors
engine-dust-task-stationary-masonry-saw = stationary masonry saw
engine-dust-task-handheld-power-saw = handheld power saw
engine-dust-task-handheld-saw-for-fibre-cement-board = handheld saw for fibre-cement board
engine-dust-task-walk-behind-saw = walk-behind saw
engine-dust-task-drill = drill
engine-dust-task-chipping-tool = chipping tool
engine-dust-task-grinder-for-mortar-removal = grinder for mortar removal
engine-dust-task-grinder-for-other-uses = grinder for other uses
engine-dust-task-floor-grinder = floor grinder
engine-dust-task-mixing-mortar = mixing mortar
engine-dust-task-combing-and-setting = combing and setting
engine-dust-task-scoring-and-snapping = scoring and snapping
engine-dust-task-sweeping = sweeping
engine-dust-task-sanding-by-hand = sanding by hand

# --- areas and rounds
engine-no-area = No area is open. Say '{ $phrase }' and its name.
engine-no-such-area = No area is called { $area } today. Areas: { $names }.
engine-area-open-already = { CAPITAL($area) } is open already.
engine-area-entered = Back at { $area }.
engine-area-started = { CAPITAL($area) } started.
engine-planned = { CAPITAL($area) } is planned.
engine-planned-begun = { CAPITAL($area) } is begun, and stays as it was planned. Change its method at its step, or plan another area.
engine-plan-unfit = It cannot stand in this plan: { $why }
engine-person-added = { $role ->
    [owner] { PERSON($name) } came, owner.
   *[installer] { PERSON($name) } came, installer.
}
engine-person-releases = { PERSON($name) } would release or sign: who does that is planned before the day begins.
engine-area-finished = { CAPITAL($area) } is finished.
engine-no-round = This checklist has no round called { $section }.
engine-needs-first = Not yet: { $section } needs { $needed } first. { $how }
    .ear = { $needed } first. { $how }
engine-say-first = Say '{ $phrase }' first.
engine-first = First: { $ask }
engine-after-this = Not yet: { $wanted } comes after this. First: { $ask }
    .ear = Not yet. First: { $ask }
engine-finishing = finishing the area
engine-not-cured = Not yet: a failure is not cured. { $points }
engine-more-lifts = Not yet: { $missing ->
    [one] one more good test tile
   *[other] { $missing } more good test tiles
} must be lifted here, { $least } at least.
engine-not-finished-yet = { $area } is not finished: something that was lifted meanwhile failed, or is not covered. Say 'finish area' once it is good.
engine-suspects = Not yet: { $count ->
    [one] tile { $tiles } is suspect or failed. Lift it, take it off, or the foreman accepts it.
   *[other] tiles { $tiles } are suspect or failed. Lift them, take them off, or the foreman accepts them.
}
engine-not-covered = Not yet: { $count ->
    [one] tile { $tiles } is not covered by a good lift. Lift it, take it off, or the foreman accepts it.
   *[other] tiles { $tiles } are not covered by a good lift. Lift the last one, take them off, or the foreman accepts them.
}
engine-ends-first = { $count ->
    [one] First one more test tile: the end of a run that nobody looked under.
   *[other] First { $count } more test tiles: ends of runs that nobody looked under.
}
engine-ready = Ready.
engine-reason-start = start of the area
engine-reason-end = end of the area
engine-reason-called = called
engine-reason-midday = midday
engine-reason-next-day = another day
engine-bucket = Mortar from bucket { $bucket }.
engine-no-bucket = No batch is alive in bucket { $bucket }.
engine-bucket-in-use = Mortar is taken from bucket { $bucket } already.
engine-reason-failure = corrective action for failure { $failure }
engine-reason-again = again, after failure { $failure }

# --- steps
engine-no-step = This checklist has no step { $step } in { $section }.
engine-answered-otherwise = { $name } is not answered like that. { $ask }
engine-caution-first = A caution comes first: { $caution } Say '{ $phrase }'.
    .ear = Caution first: { $caution } Say '{ $phrase }'.
engine-cautions-again = After the break, cautions come first again: { $caution } Say '{ $phrase }'.
    .ear = Again, after the break: { $caution } Say '{ $phrase }'.
engine-belongs-elsewhere = Not now: '{ $name }' belongs to { $holder }. { $first }
engine-comes-later = Not yet: '{ $name }' comes later. First: { $ask }
    .ear = Not yet. First: { $ask }
engine-done-already = { $name } is done already. Now: { $ask }
engine-waits-for-role = { $role ->
    [foreman] This waits for the foreman: { $ask } { $who }
    [owner] This waits for the owner: { $ask } { $who }
   *[installer] This waits for an installer: { $ask } { $who }
}
engine-no-such-answer = { $ask } Answers: { $answers }.
engine-chosen = { $what }.
engine-released = { $how ->
    [pin] { $deputy ->
        [no] Released by { PERSON($name) }, by PIN.
       *[other] Released by { PERSON($name) }, deputy for { PERSON($deputy) }, by PIN.
    }
   *[called] { $deputy ->
        [no] Released, called in the name of { PERSON($name) }, not confirmed.
       *[other] Released, called in the name of { PERSON($name) }, deputy for { PERSON($deputy) }, not confirmed.
    }
}
engine-release-by-whom = { $role ->
    [foreman] The foreman releases this, or a deputy: { $ask } Say '{ $phrase }', or '{ $turn }' first, or give the PIN on the tablet.
    [owner] The owner releases this: { $ask } Say '{ $phrase }', or '{ $turn }' first, or give the PIN on the tablet.
   *[installer] An installer releases this: { $ask } Say '{ $phrase }', or '{ $turn }' first, or give the PIN on the tablet.
}
engine-nobody-releases = { $role ->
    [foreman] This waits for a foreman, and the crew has none: { $ask }
    [owner] This waits for the owner, who is not in the crew: { $ask }
   *[installer] This waits for an installer, and the crew has none: { $ask }
}
engine-may-not-release = { PERSON($name) } may not release this: { $names } may.
engine-no-such-release = Event { $event } is no release in the name of { PERSON($name) } that waits for an answer.
engine-nothing-called = Nothing that was called in the name of { PERSON($name) } waits to be confirmed.
engine-releases-confirmed = { $count ->
    [one] { PERSON($name) } confirms one release.
   *[other] { PERSON($name) } confirms { $count } releases.
}
engine-release-struck = { PERSON($name) } strikes out the release of event { $event }.
engine-photo-kept = Photo kept.
engine-back-measured = The back on its photo: { $contact }, between { $low } and { $high }.
engine-nothing-lifted-here = No tile of { $area } was lifted in that round today. Lift it first.
engine-photo-first = That photo was not taken of this lift in { $area }. Take its photo first.
engine-eye-unknown = { PERSON($name) } is not in the crew: name who read the back by eye.
engine-photo-void-unsure = The largest void has between { $low } and { $high } on the photo: it cannot tell whether that is too large. Look at it and read it by eye.
engine-only-bare-reckoned = On a keyed or combed back colour says nothing of what touched. Paint its voids on the photo.
engine-back-not-measured = This back was not measured that way on a photo. Measure it first, or read it by eye.
engine-back-says-other = The photo says something else of this: { $name }. Take the photo's figure, or read it by eye.
engine-photo-cannot-tell = Contact seen in the photo: { $contact } (between { $low } and { $high }). Required is { $required }: the photo cannot tell. Read it by eye, or lift another.
engine-photo-left-out = No photo, noted.
engine-reading-left-out = { $name } left out, noted.
engine-reading-wanted = This reading is wanted: { $ask }
engine-photo-wanted = This photo cannot be left out. { $ask }
engine-wait = Not yet: '{ $what }' waits for { $clock }, { $left } to go. Or say '{ $phrase }' and why.
engine-weather-still = Not yet: '{ $what }' waits for other weather, the last one noted is { $weather }. Say the weather when it has changed.
engine-first-yes-or-no = First yes or no: { $answers }?
engine-yes-or-no = { $answers }. Yes or no?
    .ear = { $answers }. Yes?
engine-read-back = { $name }, { $reading }.
engine-kept = Kept.
engine-kept-already = Kept already.
engine-nothing-waits = Nothing waits for a yes.
engine-name-wanted = A name is wanted. { $ask }
engine-other-unit = { $name } is read in { $units }, not in { $given }.
engine-implausible = { $given } cannot be right for { $name }. Say it again.
engine-withdrawn = Withdrawn. { $ask }
engine-taken-back = Taken back: { $what }.
engine-nothing-to-take-back = Nothing here can be taken back.
engine-acknowledged = Acknowledged.
engine-no-caution = No caution waits.
engine-method = Method: { $method }.
engine-no-method = { $count ->
    [0] No method is called { $method } in today's plan; it lists none.
   *[other] No method is called { $method } in today's plan. Methods: { $names }.
}

# --- what follows
engine-failed = Failed: { $finding }. { $corrective }.
engine-failure-cured = Failure cured.
engine-checked-again = { $step } checked again and passed
engine-corrective-done = corrective action done
engine-own-limit = { $step }: { $finding }
engine-lift-named = Tile { $name }.
engine-lift-passes = Lift { $lift } passes.
engine-lift-passed = lift { $lift } passed
engine-lift-failed = lift { $lift }: { $reasons }
engine-lift-not-complete = Lift { $lift } is not complete: nobody read { $unread }.
engine-is-due = { $section } is due: { $reason }.
    .ear = { $section } due: { $reason }.
engine-came-lot = by lot
engine-came-forced = too many in a row without a lift
engine-came-first-of-run = the first of this run
engine-came-last-of-batch = the last of a batch near the end of its pot life
engine-came-last-of-run = the last of a run
engine-came-asked = asked for
engine-came-inspector-asked = an inspector asked for it
engine-came-follow-up = outward from a failed lift
engine-came-after-failure = set again after a failed lift
engine-came-interval = at a known place
engine-due-after = after { $section }
engine-due-first = first tile of the area
engine-due-tightened = after every tile, { $lifts } more to pass since a lift failed
engine-due-changed = first tile after a change of { $changes }
engine-change = { $change ->
    [batch] batch
    [method] method
   *[setter] setter
}
engine-due-row = row { $row } is full
engine-due-area = { $area } set since the last one
    .ear = { $area } set

# --- tiles and their lifts
engine-lift-due = Lift tile { $tile }: { $reason }.
engine-lift-after-this = Tile { $tile } is to be lifted after this.
engine-lift-due-already = Tile { $tile } is to be lifted already.
engine-lift-left = Tile { $tile } is not lifted: it stays open.
engine-lift-shows-cure = Tile { $tile } was just set again after a failed lift: its lift shows that the failure is cured. Lift it.
engine-lift-first = Tile { $tile } is being lifted. First finish that.
engine-left-cannot = it cannot be lifted
engine-left-hard = the mortar is too hard
engine-left-reach = it is out of reach
engine-no-lifts-here = In { $area } no tile is lifted.
engine-no-tile-yet = In { $area } no tile is set yet.
engine-no-such-tile = There is no tile { $tile } here. Set are: { $tiles }.
engine-place = row { $row }, column { $column }
engine-tile-not-yet-covered = not yet covered
engine-tile-covered = covered
engine-tile-lifted-good = lifted, good
engine-tile-lifted-failed = lifted, failed
engine-tile-suspect = suspect
engine-tile-accepted = accepted
engine-tile-taken-off = taken off
engine-tile-off = Tile { $tile } is off. Its place is free.
engine-tile-off-already = Tile { $tile } was taken off already.
engine-foreman-accepts = Only the foreman accepts tiles. { $who }
engine-nothing-to-accept = Tile { $tile } is { $state }: there is nothing to accept.
engine-no-suspects = In { $area } nothing is suspect.
engine-accept-after-lift = Not yet: { $tiles } is to be lifted. Lift it, or say 'cannot be lifted'.
engine-accepted-as-it-is = it stays as it is
engine-accepted-reach = it cannot be reached without breaking others
engine-accepted-owner = the owner wants it to stay
engine-tiles-accepted = { $count ->
    [one] Tile { $tiles } is accepted: { $words }. It stays an open point.
   *[other] Tiles { $tiles } are accepted: { $words }. They stay an open point.
}
engine-foreman-rules-lots = Only the foreman says how often a lot falls. { $who }
engine-no-lots-here = In { $area } lifts are due at known places: nothing is drawn.
engine-lots-unfit = One in { $number } is no lot: say one in one to one in { $most }.
engine-lots-ruled = From here on one tile in { $number } is lifted by lot.

# --- time
engine-clock-started = { $clock }: { $minutes }.
engine-clock-left = { $clock }, { $area }: { $left } left.
engine-clock-up = { $clock } is up, { $area }: { $up }
engine-clock-ran-out = { $clock } ran out after { $minutes }
engine-clock-to-go = { $clock }, { $area }: { $left } to go.
engine-clock-over = { $clock } is over, { $area }: { $up }
engine-clock-early = { $clock }: { $finding }
engine-set-first = { $section } first: set what hangs.
engine-fell-away = it fell away with its mortar: { $clock } ran out
engine-not-late = Nothing of { $clock } can be called late now.
engine-called-late = called { $minutes } late by { PERSON($name) }: { $reason }
engine-late-noted = { $clock } was kept and called { $minutes } late. That stays an open point.
engine-late-reason-hands-were-full = hands were full
engine-late-reason-holding-the-tile = holding the tile
engine-late-reason-could-not-reach-it = the tablet was out of reach
engine-late-reason-helping-the-others = helping the others
engine-nothing-to-wait-for = Nothing is waited for here.
engine-early-noted = Going on { $minutes } before { $clock } is over. That stays an open point.
engine-early-reason-it-is-hard = it is hard already
engine-early-reason-quick-patch = it is a quick patch
engine-early-reason-foreman-agreed = the foreman agreed
engine-weather-stops = work stopped by the weather: { $weather }
engine-no-clock = No clock runs.
engine-speak-note = Speak your note.

engine-sets = { PERSON($name) } sets.
engine-sets-already = { PERSON($name) } sets here already.
engine-no-such-place = The plan has no piece { $piece } here. { $count ->
    [0] It names no places.
   *[other] Its pieces: { $places }.
}
engine-place-taken = Piece { $piece } is set already. To set it again, take it off first.
engine-no-piece-set-here = { $section } sets no piece; it takes no place.

# --- areas that go on from another day

engine-continues-no-work = The day of { $date } is { $kind ->
    [practice] practice
   *[rehearsal] a rehearsal
} and no work: no work goes on from it.
engine-plan-date = The plan is for { $planned }, and the tablet's clock shows { $today }. Begin the day with today's date, or set the clock right.
engine-continues-later = The day of { $date } ends at { $last }, which is later than now ({ $now }): nothing can go on from it. Check the tablet's clock.
engine-continues-nothing = Nothing goes on from the day of { $date }: the plan has none of its areas, which are { $there }. Give an area the same name, or the same id.
engine-continues-twice = { $area } is in two of the days that were named: it can go on from one only. Name the later one.
engine-continues-otherwise = { $area } cannot go on from the day of { $date }: { $what } is another in the plan. Put it back as it was, or give the area an id of its own.
engine-continues-what-checklist = the checklist
engine-continues-what-piece = the piece
engine-continues-what-grid = the grid
engine-continues-what-pieces = the list of pieces
engine-continues-without = { $area } cannot go on: { $missing } waits there, which the checklist { $checklist } does not have any more. Use the checklist of the day before.

# --- mortar that is spread for tiles that are counted
engine-witness-area = the first one here
engine-witness-method = another method
engine-witness-setter = another setter
engine-witness-batch = a new batch
engine-witness-failed-lift = after a failed lift
engine-witness-break = after a break
engine-witness-this = Called step by step: { $why }. { $ask }
engine-witnessed-first = The tile at hand is called step by step. First: { $ask }
engine-none-counted = No tile is counted in { $area }: call each one step by step.
engine-no-spread = No mortar is spread. Say '{ $phrase }' when you spread it; together, if the tiles are in already.
engine-spread-already = Mortar is spread. Say how many are in: '{ $phrase }'.
engine-spread-first = Mortar is spread: before { $section }, say how many tiles are in.
engine-whose-spread = Whose tiles are in: those of { $names }?
engine-so-many-tiles = { $number ->
    [0] None is no number of tiles.
   *[other] { $number } tiles are more than are left to set ({ $free }). Say the number again.
}
engine-begun-already = { $section } is under way. { $ask }
engine-all-set = All places of { $area } are set.
engine-spread-too-much = { $wanted } is more than the open time bears: about { $bears }.
engine-bears = About { $count ->
    [one] one tile
   *[other] { $count } tiles
} in the open time.
engine-bears-unknown = Nobody's pace is measured yet.
engine-tiles-in = { $count } in.
