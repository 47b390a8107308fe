# The owner or an inspector puts their name to a sealed day.
countersign-title = Countersign
countersign-what = You put your name to this: that on this day the record had this head.
countersign-day = { $site }, { $date }
countersign-sealed = { $parts ->
    [one] Sealed by { $names }, { $events } events
   *[other] Sealed by { $names } in { $parts } parts, { $events } events
}
countersign-left = { $count ->
    [0] Nothing was left open
    [one] Signed with 1 point left open
   *[other] Signed with { $count } points left open
}
countersign-read = Read
countersign-by = Countersigned by { PERSON($name) }, { $role ->
    [inspector] inspector
   *[owner] owner
}, { $day } at { $at }
countersign-later = { $events ->
    [one] 1 event came after that
   *[other] { $events } events came after that
}
countersign-head = Head: write it down, or take a picture
countersign-not-yet = It cannot be countersigned yet: { $why }
countersign-being-read = The record is being read
countersign-to-sign-off = Sign-off
countersign-who = Who countersigns?
countersign-somebody = Somebody else
countersign-their-name = Name of whoever countersigns
countersign-which-role = As what?
countersign-role = { $role ->
    [inspector] Inspector
   *[owner] Owner
}
countersign-no-key = no PIN here yet
countersign-pin = { PERSON($name) } countersigns: PIN
countersign-moved-on = The record has gone on since it was shown. Read it again before you countersign.
countersign-bring-in = Bring in
countersign-which-file = Which file was made elsewhere?
countersign-time = Time
countersign-time-told = an authority says when it was
countersign-ask-stamp = Write a request
countersign-stamp = Time stamp by { $authority }, { $at }: events 1 to { $events }. Whose it is, a check with the authority's root tells.
