# Tiles: where they lie, their state and why, how their lifts came about.

tile-why = { $state ->
    [covered] a good lift before it and behind it (lift { $lift }); it does not mean looked at
    [lifted-good] lift { $lift } looked under it and was good
    [lifted-failed] lift { $lift } looked under it and failed
    [suspect] lift { $lift } of the same run failed, and nothing has cleared it
    [accepted] the foreman accepted it as it is
    [taken-off] it was taken off
   *[not-yet-covered] no good lift before it and behind it yet
}
tile-named = { $name }
tile-by-order = set as number { $number }
tile-row-column = row { $row }, column { $column }
tile-came = { $came ->
    [lot] by lot
    [forced] forced by the cap
    [first-of-run] first of its run
    [last-of-batch] last of its batch
    [last-of-run] last of its run
    [asked] asked for
    [inspector-asked] the inspector asked
    [follow-up] outward from a failed lift
    [after-failure] again after a failure
   *[interval] at a fixed interval
}
tile-put-back = { $how ->
    [set-again] set again with new mortar
   *[put-back] put back after lift { $lift }, not lifted again
}
# How a tile came into the record, and what stands for it: never one mark for two ways.
tile-seen = { $seen ->
    [witnessed] witnessed, { $event ->
        [0] on an earlier day
       *[other] event { $event }
    }
    [set-again] set again after lift { $lift }, not called step by step
   *[counted] counted, { $state ->
        [covered] covered by lift { $lift }
        [lifted-good] lifted good (lift { $lift })
        [lifted-failed] lifted and FAILED (lift { $lift })
        [suspect] suspect since lift { $lift }
        [accepted] accepted by the foreman
        [taken-off] taken off
       *[not-yet-covered] not yet covered
    }
}{ $together ->
    [yes] ; called in one breath, not timed
   *[no] { "" }
}
tile-seen-of-all = { $tiles ->
    [one] one piece set
   *[other] { $tiles } pieces set
}: { $witnessed } witnessed, { $counted } counted{ $again ->
    [0] { "" }
   *[other] , { $again } set again after a lift
}
