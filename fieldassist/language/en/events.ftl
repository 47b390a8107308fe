# A line of a log's list, one an event.
events-day-opened = { $kind ->
    [practice] PRACTICE, proof of nothing: day opened: { $site }, { $date }{ $days ->
        [0] {""}
       *[other] , goes on from { $days } earlier
    }
    [rehearsal] REHEARSAL, proof of nothing: day opened: { $site }, { $date }{ $days ->
        [0] {""}
       *[other] , goes on from { $days } earlier
    }
   *[work] day opened: { $site }, { $date }{ $days ->
        [0] {""}
       *[other] , goes on from { $days } earlier
    }{ $number ->
        [0] {""}
       *[other] , day { $number } of tablet { $tablet }{ $book ->
            [lost] , whose book of days was lost
            [damaged] , whose book of days was damaged
           *[other] {""}
        }
    }
}
events-area-carried = { $area } goes on from { $date } (head { $head }): { $tiles ->
    [one] 1 tile
   *[other] { $tiles } tiles
}, { $lifts ->
    [one] 1 lift
   *[other] { $lifts } lifts
}, { $failures ->
    [0] nothing failed and open
   *[other] { $failures } failed and open
}
events-checklist-adopted = checklist adopted: { $title }, edition { $edition }
events-area-planned = { $anew ->
    [yes] planned anew: { $area }, { $where }
   *[no] planned: { $area }, { $where }
}
events-person-added = { $role ->
    [owner] { PERSON($name) } came to the crew, owner
   *[installer] { PERSON($name) } came to the crew, installer
}
events-speaker-changed = { $role ->
    [foreman] { PERSON($name) } speaks, foreman
    [owner] { PERSON($name) } speaks, owner
   *[installer] { PERSON($name) } speaks, installer
}
events-weather-noted = weather: { $weather }
events-note-made = note: “{ $text }”
events-transcript-made = written by a machine, { $model }, from the sound of event { $target }{ $sure ->
    [none] : it made out no word
    [no] , unsure: “{ $text }”
   *[yes] : “{ $text }”
 }
events-dust-started = dust starts: { $task }, { $place }
events-dust-ended = dust ends, of event { $began }
events-dust-noted = { $replaces ->
    [0] dust: { $minutes } of { $task }, { $place }
   *[other] dust: { $minutes } of { $task }, { $place }, in place of event { $replaces }
}
events-area-started = area started: { $area }
events-area-entered = back at { $area }
events-section-opened = { $letter ->
    [none] { $area }: { $section } { $round } opened, { $reason }
   *[other] { $area }: { $section } { $round } opened, { $reason }: combination { $letter }
}
events-samples-ordered = { $more ->
    [yes] { $area }: more samples, drawn from the head { $head }…: { $order }
   *[no] { $area }: order of the samples, drawn from the head { $head }…: { $order }
}
events-sample-spoiled = { $area }: { $section } { $round }, combination { $letter }, spoiled before it was looked at: { BARE($reason) }
events-method-released = { $deputy ->
    [no] { $area }: { PERSON($name) } released combination { $letter } by PIN for { $areas }: { $method }
   *[other] { $area }: { PERSON($name) }, deputy for { PERSON($deputy) }, released combination { $letter } by PIN for { $areas }: { $method }
}
events-section-closed = { $sets ->
    [yes] { $area }: { $section } { $round } done, { $set } set
   *[no] { $area }: { $section } { $round } done
}
events-round-taken-up = { $area }: { $section } { $round } goes on
events-mortar-spread = { $area }: { $setter } spread mortar { $wanted ->
    [0] for tiles that are counted
    [one] for one tile
   *[other] for { $wanted } tiles
}{ $witnessed ->
    [yes] , the first of them called step by step
   *[no] { "" }
}{ $bears ->
    [0] { "" }
   *[other] ; the open time bears about { $bears }
}
events-tile-counted = { $area }: tile { $tile } in, counted, { $set } set by { $setter }{ $ends ->
    [yes] ; the spread is over
   *[no] { "" }
}
events-still-failing = { $area }: failure { $failure } is not cured, { $finding }
events-step-reopened = { $area }: { $step } is asked again, for failure { $failure }
events-caution-acknowledged = { $area }: { $how ->
    [went-on] caution shown, gone on
    [understood-again] caution acknowledged again
   *[understood] caution acknowledged
}{ $count ->
    [0] . { $caution }
   *[other] , for { $persons }. { $caution }
}
events-step-confirmed = { $area }: { $step }
events-tile-lifted = { $label ->
    [none] { $area }: lift { $lift }, tile { $tile }
   *[other] { $area }: lift { $lift }, tile { $tile } “{ $label }”
}
events-reading-called = { $area }: { $step }, { $reading }, read back
events-kept = { $by ->
   *[yes] kept
    [next-phrase] kept by the next phrase
    [entered] entered and kept
}
events-reading-kept = { $verdict ->
    [passed] { $area }: { $step }, { $reading } { $kept }, passed ({ $required })
    [over] { $area }: { $step }, { $reading } { $kept }, FAILED, over ({ $required })
    [under] { $area }: { $step }, { $reading } { $kept }, FAILED, under ({ $required })
    [none] { $area }: { $step }, { $reading } { $kept }
   *[read] { $area }: { $step }, { PERSON($reader) } reads { $reading } { $kept }
}
events-reading-left-out = { $area }: { $step }, not measured
events-reading-corrected = { $verdict ->
    [passed] { $area }: { $step } corrected to { $reading } in place of event { $corrects }, passed ({ $required })
    [over] { $area }: { $step } corrected to { $reading } in place of event { $corrects }, FAILED, over ({ $required })
    [under] { $area }: { $step } corrected to { $reading } in place of event { $corrects }, FAILED, under ({ $required })
   *[none] { $area }: { $step } corrected to { $reading } in place of event { $corrects }
}
events-choice-called = { $area }: { $step }, { $option }, read back
events-choice-made = { $area }: { $step }, { $option }
events-photo-left-out = { $area }: { $step }, no photo taken{ $why ->
    [went-on] , gone on without it
   *[said] {""}
}
events-photo-attached = photo { $file }{ $bare ->
    [yes] , without place and camera
   *[no] {""}
}
events-back-measured = { $area }: back { $way ->
    [painted] painted on its photo
    [proposed] measured on its photo
   *[corrected] measured on its photo and put right by paint
}, { $contact }, between { $low } and { $high }
events-hold-released = { $how ->
    [pin] { $deputy ->
        [no] { $area }: { $step }, hold point released by { PERSON($name) }, by PIN
       *[other] { $area }: { $step }, hold point released by { PERSON($name) }, deputy for { PERSON($deputy) }, by PIN
    }
   *[called] { $deputy ->
        [no] { $area }: { $step }, hold point released, called in the name of { PERSON($name) }
       *[other] { $area }: { $step }, hold point released, called in the name of { PERSON($name) }, deputy for { PERSON($deputy) }
    }
}
events-releases-confirmed = { PERSON($name) } confirms by PIN the releases of events { $events }
events-release-struck = { PERSON($name) } strikes out the release of event { $release }
events-withdrawn = { $reason ->
    [answered-no] { $area }: event { $target } withdrawn, “no” at the read-back
    [said-again] { $area }: event { $target } withdrawn, said again with another value
   *[scratched] { $strikes ->
        [0] { $area }: event { $target } taken back
        [one] { $area }: event { $target } taken back, and one that followed from it
       *[other] { $area }: event { $target } taken back, and { $strikes } that followed from it
    }
}
events-lift-judged = { $verdict ->
    [passed] { $area }: lift { $lift }, { $contact } of at least { $required }, passed
    [failed] { $area }: lift { $lift }, { $contact } of at least { $required }, FAILED: { $reasons }
   *[not-complete] { $area }: lift { $lift }, { $contact } of at least { $required }, not complete, unread: { $reasons }
}
events-failure-opened = { $area }: FAILURE, { $finding }. { $corrective }
events-failure-closed = { $area }: failure { $failure } cured by “{ $corrective }”, { $shown-by }
events-inspection-tightened = { $lifts ->
    [one] { $area }: the next lift follows the next tile, for failure { $failure }
   *[other] { $area }: the next { $lifts } lifts follow every tile, for failure { $failure }
}
events-clock-started = { $area }: { $clock } runs, { $minutes } ({ $basis })
events-clock-stopped = { $verdict ->
    [passed] { $area }: { $clock } stopped after { $minutes } ({ $required })
    [over] { $area }: { $clock } stopped after { $minutes }, too late ({ $required })
    [under] { $area }: { $clock } after { $minutes }, too early ({ $required }); it runs on
    [together] { $area }: { $clock } began and stopped in one breath, not timed apart
   *[none] { $area }: { $clock } stopped after { $minutes }
}
events-clock-up = { $area }: { $clock } is over, { $minutes }
events-went-on-early = { $area }: { $step } gone on with { $minutes } before { $clock } is over: { $reason }
events-called-late = { $area }: { $clock } was kept, and called { $minutes } late: { $reason }
events-bucket-taken = { $area }: mortar is taken from bucket { $bucket }
events-work-stopped = { $area }: work stopped, weather { $weather }
events-clock-warned = { $area }: { $clock }, { $minutes } left
events-clock-ran-out = { $area }: { $clock } ran out after { $minutes }
events-method-changed = { $area }: method { $method }
events-method-doubted = { $holds ->
    [yes] { $area } waits: { $method } cannot do by the reckoning: { $reasons }
   *[no] { $area }: { $method } cannot do by the reckoning: { $reasons }
}
events-method-vouched = { $deputy ->
    [no] { $area }: { PERSON($name) } stands for { $method }: { $word }
   *[other] { $area }: { PERSON($name) }, deputy for { PERSON($deputy) }, stands for { $method }: { $word }
}
events-method-chosen = { $area }, { $section } { $round }, { $step }: { $answer }
events-setter-changed = { $area }: { PERSON($name) } sets
events-lots-committed = lots drawn from here on from the seed with the hash { $commitment }…
events-lots-revealed = lots revealed: the seed with the hash { $commitment }… is { $seed }
events-lots-ruled = { $area }: one tile in { $one-in } is lifted by lot
events-lift-due = { $area }: tile { $tile } is to be lifted, { $came }
events-lift-left = { $area }: tile { $tile }, due { $came }, not lifted: { BARE($reason) }
events-tiles-marked = { $area }: { $marks }
events-tile-mark = { $state ->
    [suspect] tile { $tile } suspect since lift { $lift }
    [covered] tile { $tile } covered by lift { $lift }
    [lifted-good] tile { $tile } good (lift { $lift })
    [lifted-failed] tile { $tile } FAILED (lift { $lift })
    [accepted] tile { $tile } accepted
    [taken-off] tile { $tile } off
   *[not-yet-covered] tile { $tile } not yet covered
}
events-tiles-accepted = { $area }: { $count ->
    [one] tile { $tiles } accepted: { BARE($words) }
   *[other] tiles { $tiles } accepted: { BARE($words) }
}
events-tile-taken-off = { $area }: tile { $tile } taken off
events-area-finished = { $area } is finished
events-finish-held = { $area } is not finished yet. { $point }
events-point-answered = { $spoken ->
    [yes] answered “{ $answer }”, kept as sound: { $point }
   *[no] answered “{ $answer }”: { $point }
}
events-command-refused = refused: { $attempt }. { $reason }
events-day-signed = { $part ->
    [0] { $open ->
        [0] day signed by { PERSON($name) }
       *[other] day signed by { PERSON($name) } with open points: { $points }
    }
   *[other] { $open ->
        [0] addendum { $part } signed by { PERSON($name) }
       *[other] addendum { $part } signed by { PERSON($name) } with open points: { $points }
    }
}
events-day-sealed = events 1 to { $covers } sealed by { PERSON($name) }, key { $key }…
events-addendum-opened = addendum { $number } opened: “{ $reason }”
events-correction-made = event { $target } corrected: “{ $text }”
events-pin-refused = { $left ->
    [0] wrong PIN for { PERSON($name) }
    [one] wrong PIN for { PERSON($name) }, one try left
   *[other] wrong PIN for { PERSON($name) }, { $left } tries left
}
events-key-replaced = { PERSON($name) } has a new key, { $key }…, in place of { $before }…: the PIN was forgotten
events-clock-not-watched = the tablet was started anew after { $minutes } in which nothing was written: whether its clock was set meanwhile, nobody can tell
events-day-recovered = { $missing ->
    [0] the log was damaged and put together again: its first { $events } events go on
    [one] the log was damaged: its first { $events } events go on, one is missing, { $behind } more were kept apart
   *[other] the log was damaged: its first { $events } events go on, { $missing } are missing, { $behind } more were kept apart
}
events-clock-jumped = the clock of the tablet was set, by { $seconds }
