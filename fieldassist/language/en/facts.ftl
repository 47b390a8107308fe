# The facts of a day, for other programs.

facts-no-day = This record opens no day, so there are no facts to tell.
facts-unsound = The events of this record do not follow from each other ({ $why }), so there are no facts to tell.
facts-why = { $state ->
    [not-set] no tile was set here yet
    [covered] a good lift before it and behind it speaks for it; it does not mean looked at
    [lifted-good] lift { $lift } looked under it and was good
    [lifted-failed] lift { $lift } looked under it and failed
    [suspect] lift { $lift } of the same run failed, and nothing has cleared it
    [accepted] the foreman accepted it as it is
    [taken-off] it was taken off
   *[not-yet-covered] no good lift lies behind it yet
}
facts-by-order = number { $number } in the order of setting
facts-row-column = row { $row }, column { $column }
