# The appendix of a day's documents.

appendix-title = Appendix
appendix-running = Appendix: the record in short
appendix-intro = For whoever has an hour. Printed is what stands out of the usual sequence; all { $events ->
    [one] 1 event is
   *[other] { $events } events are
 } attached: { $lines } as they were stored, { $table } and { $list } as a list.
appendix-attached = Attached files
appendix-more-attached = { $count ->
    [one] One file more is told of in the same way: the record names it.
   *[other] { $count } files more are told of in the same way: the record names each.
 }

# --- what stands out

appendix-sequence = Sequence: what stands out
appendix-letter = { $letter } { $area }
appendix-no-longer = { $told } (counts no more since event { $event })
appendix-entry-area-started = { $area }: begun
appendix-entry-area-finished = { $area }: finished
appendix-entry-section-closed = { $tile ->
    [none] { $area }: { $section } { $round } done
   *[other] { $area }: tile { $tile } called in full
 }
appendix-entry-setter-changed = { $area }: { PERSON($name) } sets
appendix-entry-hold-released = { $how ->
    [pin] { $area }: { $step }, { PERSON($name) } (PIN){ $deputy ->
        [no] {""}
       *[other] , deputy for { PERSON($deputy) }
    }
   *[called] { $area }: { $step }, called in the name of { PERSON($name) }{ $deputy ->
        [no] {""}
       *[other] , deputy for { PERSON($deputy) }
    }
 }
appendix-entry-photo-left-out = { $area }: no photo
appendix-entry-reading-left-out = { $area }: { $step }, not measured
appendix-entry-failure-opened = { $area }: { $finding }. { $corrective }
appendix-entry-failure-closed = { $area }: cured (failure of event { $failure }), { BARE($shown-by) }
appendix-entry-still-failing = { $area }: not cured (failure of event { $failure }), { $finding }
appendix-entry-day-signed = { $part ->
    [0] day signed by { PERSON($name) }{ $open ->
        [0] , nothing open
        [one] , one point open
       *[other] , { $open } points open
    }
   *[other] addendum { $part } signed by { PERSON($name) }{ $open ->
        [0] , nothing open
        [one] , one point open
       *[other] , { $open } points open
    }
 }
appendix-lead-failure-opened = Failed.
appendix-lead-still-failing = Failed again.
appendix-lead-pin-refused = Wrong PIN.
appendix-lead-release-struck = Struck out.
appendix-lead-day-recovered = Damaged.
appendix-taken-back = { $reason ->
    [answered-no] taken back, “no” at the read-back: { $told } ({ $said }){ $count ->
        [0] {""}
       *[other] . With it fell: { $fell }
    }
    [said-again] said again with another value: { $told } ({ $said }){ $count ->
        [0] {""}
       *[other] . With it fell: { $fell }
    }
   *[scratched] taken back: { $told } ({ $said }){ $count ->
        [0] {""}
       *[other] . With it fell: { $fell }
    }
 }
appendix-more-photo-left-out = { $area }: { $count ->
    [one] no photo once more
   *[other] no photo { $count } times more
 }
appendix-more-reading-left-out = { $area }: { $count ->
    [one] not measured once more
   *[other] not measured { $count } times more
 }
appendix-more-setter-changed = { $area }: { $count ->
    [one] one change of setter more
   *[other] { $count } changes of setter more
 }
appendix-more-section-closed = { $area }: { $count ->
    [one] one tile more called in full
   *[other] { $count } tiles more called in full
 }
appendix-more-like-it = { $area }: { $count } more of the kind “{ $kind }”, see { $table }
appendix-refused = Refused, nothing changed by it
appendix-refused-line = { $area ->
    [none] { $attempt }: { $reason }
   *[other] { $area }: { $attempt }: { $reason }
 }{ $times ->
    [1] {""}
   *[other] { " " }({ $times } times)
 }

# --- conditions, cautions, dust, remarks, people, days

appendix-conditions = Conditions
appendix-weather = Weather
appendix-condition-read = { $passed ->
    [no] { $time } { $value } (failed)
   *[yes] { $time } { $value }
 }
appendix-condition = { $name ->
    [none] { $readings }
   *[other] { $name } { $readings }
 }
appendix-condition-required = Required of { $names }: { $required }.
appendix-cautions = Cautions, heard and answered
appendix-caution = { $caution } { $answers } Source: { $basis }.
appendix-caution-understood = Understood by { $heard }.
appendix-caution-shown = Shown, and work went on: { $heard }.
appendix-heard = { $name } { $times }
appendix-heard-at = { $again ->
    [yes] again { $time }
   *[no] { $time }
 }
appendix-dust = Minutes of dusty work
appendix-dust-line = { $who }: { $minutes } of { $task }, { $place }{ $replaced ->
    [yes] , replaced since
   *[no] {""}
 } ({ $basis })
appendix-dust-sum = { $over ->
    [yes] { $who }: { $listed } of tasks in the table of 29 CFR 1926.1153, MORE than four hours, { $other } of others.
   *[no] { $who }: { $listed } of tasks in the table of 29 CFR 1926.1153, up to four hours, { $other } of others.
 }
appendix-remarks = Remarks
appendix-remark = { $area ->
    [none] { $who }: “{ $text }”
   *[other] { $area }, { $who }: “{ $text }”
 }{ $sound ->
    [yes] , kept as sound
   *[no] {""}
 }
appendix-transcript = written by a machine from the sound ({ $model }){ $sure ->
    [none] : no word made out
    [no] , unsure: “{ $text }”
   *[yes] : “{ $text }”
 }
appendix-crew = Crew
appendix-person = { $entries ->
    [0] { $name }, { $role }: nothing in the record
    [one] { $name }, { $role }: 1 entry, at { $first }
   *[other] { $name }, { $role }: { $entries } entries, { $first } to { $last }
 }
appendix-heard-by = What was spoken was heard by the model { $models }.
appendix-days = Days before
appendix-goes-on = { $areas }, from { $date }, head { $head } …: { $left ->
    [sealed] sealed when it went on here
    [signed] signed and NOT SEALED when it went on here
   *[open] NOT SIGNED when it went on here
 }
appendix-tablet = Day { $number } of tablet { $tablet }{ $book ->
    [lost] , whose book of days was lost before
    [damaged] , whose book of days was damaged before
   *[other] {""}
 }.
appendix-day-before = { $number ->
    [0] A day that was begun elsewhere ({ $date }) had { $events } events by then, head { $head } …
   *[other] Day { $number } ({ $date }) had { $events } events by then, head { $head } …
 }
appendix-not-started = Areas not started
appendix-area-planned = { $area }, { $where }: { $surface } planned

# --- where figures come from

appendix-limits = Where the limits come from
appendix-limit = { $limits } { $asked }
appendix-limits-of = { $limits }.
appendix-limit-source = { CAPITAL($source) }.{ $note ->
    [none] {""}
   *[other] {" "}{ $note }
 }
appendix-standing-seen = seen
appendix-standing-second-hand = † second-hand
appendix-standing-from-memory = † from memory
appendix-standing-computed = computed
appendix-standing-practice = practice
appendix-standing-data-sheet = data sheet
appendix-standing-own-rule = own rule
appendix-limits-foot = † nobody here has read it in the document itself: check the standard before much hangs on it. Seen: read in the document. Practice: common practice, no published source. Own rule: a number of the crew's own checklist. Local codes and the product's data sheet go first.
appendix-ways = How the figures were taken
appendix-way-photo = Photo
appendix-way-grid = Grid
appendix-way-eye = Eye
appendix-way-lot = Lot
appendix-way-clock = Clock
appendix-taken-by-photo = one picture, squared by its four corners; what is bare was measured or painted on it and confirmed with a finger. The interval of a measured one was made to hold in nine of ten computed pictures; that of a painted one is what strokes beside the voids’ borders may come to. Neither was checked on real lifts yet.
appendix-taken-by-grid = a clear sheet with a grid was laid on the back, and its fields counted.
appendix-taken-by-eye = one person's estimate; how far it is off is not known unless a trial has shown it.
appendix-taken-by-lot = the tile follows from a seed whose hash stood in the record before the first tile; nobody could know it before, and anybody can draw it again. { $fell ->
    [one] Of { $drawn } lots of the pieces that stand one fell.
   *[other] Of { $drawn } lots of the pieces that stand { $fell } fell.
 }
appendix-taken-by-clock = slake, open time and pot life run from the spoken step, by the machine's own clock, whatever its wall clock was set to.
appendix-words = Words
appendix-word-reach = Reach
appendix-word-suspect = Suspect
appendix-word-witnessed = Witnessed
appendix-word-counted = Counted
appendix-word-lot = By lot
appendix-word-accepted = Accepted
appendix-word-second-hand = †
appendix-means-reach = what one person sets with one method in an area, from the good lift before to the good lift behind: those two speak for it. It does not mean looked at. The rule is ours, no standard says how far a lift speaks.
appendix-means-suspect = from the last good lift before a failed one on to the change of method, until it is lifted and good, lies outside two good lifts in a row, or is set again.
appendix-means-witnessed = every step of it was called as it was done.
appendix-means-counted = set with the method of a witnessed tile, and counted when it was in; its steps were not called.
appendix-means-lot = chosen by the lot above. Only such lifts prove anything about the tiles that nobody looked under.
appendix-means-accepted = the foreman let it stay in words, without proof.
appendix-means-second-hand = a limit that is not known from its own document, wherever it decides.
appendix-questions = What the steps asked
appendix-questions-lead = Each once, though it was asked of every tile; how often it was answered stands behind it.
appendix-asked = { $asked } ({ $times })

# --- files and pieces

appendix-files = Photos and sounds
appendix-files-note = files of this day, first digits of their SHA-256; the record holds it in full
appendix-photo = { $area ->
    [none] photo between the areas, { $time }
   *[other] { $lift ->
        [0] { $name ->
            [none] { $area }, { $time }
           *[other] { $area }, { $name }, { $time }
        }
       *[other] { $area }, lift { $lift }
    }
 }
appendix-sound = { $who }, sound, { $time }
appendix-pieces = Pieces of { $area }
appendix-numbers = { $first } to { $last }
appendix-state = { $state ->
    [lifted-good] lifted, good
    [lifted-failed] LIFTED, FAILED
    [covered] covered by lifts
    [suspect] SUSPECT
    [accepted] accepted in words
    [taken-off] taken off
    [not-set] not set
   *[not-yet-covered] not yet covered
 }
appendix-head-pieces = Pieces
appendix-head-state = State
appendix-head-setter = Set by
appendix-head-method = Method
