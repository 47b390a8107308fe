# An area drawn to scale: what stands in its pieces, around it and in its key.

# --- in a piece
drawn-loud = { $state ->
    [suspect] SUSPECT
    [accepted] SUSPECT
    [lifted-failed] FAILED
    [taken-off] TAKEN OFF
    [not-yet-covered] NOT YET COVERED
   *[not-set] NOT SET
}
drawn-words = { $state ->
    [covered] covered by lift { $lift }
    [cleared] between good lifts { $lift } and { $other }
    [suspect] since lift { $lift }
    [accepted] accepted in words
    [lifted-failed] by lift { $lift }
   *[other] { "" }
}
drawn-short = { $state ->
    [covered] by lift { $lift }
    [cleared] by lifts { $lift }, { $other }
    [suspect] lift { $lift }
    [accepted] accepted in words
   *[other] { "" }
}
drawn-state = { $state ->
    [covered] covered by lift { $lift }
    [cleared] suspect, then cleared by good lifts { $lift } and { $other }
    [suspect] SUSPECT since lift { $lift }
    [accepted] SUSPECT, accepted in words
    [lifted-good] lifted, good
    [lifted-failed] FAILED
    [taken-off] TAKEN OFF
    [not-yet-covered] NOT YET COVERED
   *[not-set] NOT SET
}
drawn-again = { $times ->
    [one] set again
    [2] set again twice
   *[other] set again { $times } times
}
drawn-again-short = again
drawn-put-back = put back
drawn-seen = { $seen }{ $back ->
    [0] { "" }
   *[other] ; { $back } put back, not lifted again
}
drawn-tag = { $batch ->
    [0] { $letter }
   *[other] { $letter ->
        [no] b{ $batch }
       *[other] { $letter }, b{ $batch }
    }
}
drawn-batch-begins = b{ $batch }
drawn-figure = { $percent }
drawn-lift = lift { $lift }
drawn-lift-short = l{ $lift }

# --- around it
drawn-caption = { $laid ->
    [no] In the order in which the pieces were set: the plan does not say where they lie.
   *[yes] { $surface ->
        [floor] Seen from above
       *[wall] Seen from the room
    }, 1 : { $scale }.
}
drawn-part = Drawing { $part } of { $parts }.
drawn-numbers = Bold figure: number of the piece{ $laid ->
    [no] { "" }
   *[yes] , its place for good
}. “{ $tag }”: method, batch.
drawn-rows = At the left: the first piece of each row, counted from left to right.
drawn-apart = Over it: pieces of which the plan does not say where they lie.
drawn-run = { CAPITAL($state) }:
drawn-by-lift = { $number } ({ $lift })
drawn-more = … and more: the table of pieces in the appendix has them all.

# --- its key
drawn-key = { $sign ->
    [good] good lift, from a photo or a grid
    [eye] good lift, by eye
    [eye-or-earlier] good lift, by eye or on an earlier day
    [failed] failed lift
    [open] lift not judged
    [cleared] suspect, then cleared
    [suspect] suspect
    [dots] set, not yet covered by a lift
    [not-set] not set, or taken off
    [odd-batch] odd batch
    [even-batch] even batch
    [method] where the method changes
    [combing-level] combed along the short side, as called
    [combing-upright] combed along the short side, as called
    [edge] edge seen full in a lift
   *[again] set again
}
drawn-key-plain = plain: covered, a good lift before it and behind it
drawn-key-words = { $what ->
    [lifts] { $mark }: a lift, by its number, made here
   *[batches] { $mark }: a batch, by its number, begins here
}

# --- in words, for whoever cannot see it
drawn-alt = { $laid ->
    [no] { $area }, { $pieces } in the order in which they were set
   *[yes] { $area } seen from { $surface ->
        [floor] above
       *[wall] the room
    }, { $pieces } counted from the lower left, row by row
}.
drawn-alt-part = Drawing { $part } of { $parts } of this area: all of it is told with the first.
drawn-alt-state = { CAPITAL($state) }: { $pieces }.
drawn-alt-under = { $lettered ->
    [yes] Method { $letter }{ $batch ->
        [0] { "" }
       *[other] , batch { $batch }
    }
   *[no] Batch { $batch }
}: { $pieces }.
drawn-alt-combed = Combed along the short side, as called: { $pieces }.
drawn-alt-edges = Edges seen full in a lift: { $pieces }.
drawn-alt-lift = { CAPITAL($piece) }, { $lift }.
drawn-lift-told = lift { $lift }{ $read ->
    [no] { "" }
   *[yes] , { $percent }
}, { $sign ->
    [failed] FAILED
    [open] not judged
   *[good] good
}{ $way ->
    [eye] , by eye
    [grid] , counted on a grid
    [photo] , from a photo
   *[none] { "" }
}
drawn-setter = { $name }, { $seen ->
    [witnessed] witnessed
    [counted] counted
   *[set-again] set again
}
drawn-set-before = { $set }, { $date }, { $one ->
    [yes] { $first }
   *[no] { $first } to { $last }
}
drawn-set = { $set }, { $one ->
    [yes] { $first }
   *[no] { $first } to { $last }
}

# --- the table of all pieces
drawn-table = { $column ->
    [numbers] Pieces
    [state] State
    [lifts] Lifts
    [method] Method, batch
   *[set] Set by, how called
}
