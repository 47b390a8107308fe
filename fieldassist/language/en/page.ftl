# What stands on every page of a day's documents.

page-title = { $kind ->
    [work] Daily log, { $site }, { $date }
   *[other] { $kind }: Daily log, { $site }, { $date }
    }
page-subject = Tile setting, { $events } events, log head { $head }
page-head = Daily log · { $site } · { $date }
page-number = page { $number } of { $total }
page-copy = copy of the signed file, page { $number } of { $total }
page-reference = page { $number }
page-record = { $events ->
    [one] 1 event
   *[other] { $events } events
 }, head { $head } …
page-foot-sealed = Sealed by { $name }, { $role }, { $time }. { $record }
page-foot-not-sealed = Signed, NOT SEALED: { $name }, { $role }, { $time }. { $record }
page-foot-unfit = THE SEAL DOES NOT FIT: { $name }, { $role }, { $time }. { $record }
page-foot-not-signed = NOT SIGNED. { $record }
page-mark-practice = PRACTICE: a day to try the tablet on. No tile was set. This is proof of nothing.
page-mark-rehearsal = REHEARSAL: a script was played. No tile was set. This is proof of nothing.
