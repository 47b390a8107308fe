# What the printed page of a mock-up trial says, beside what every telling of a trial says (trial.ftl).

# --- the foot

trialpage-record = { $events ->
    [one] 1 event
   *[other] { $events } events
 }, head { $head } …
trialpage-foot-sealed = Sealed by { $name }, { $role }, { $time }. { $record }
trialpage-foot-not-sealed = Signed, NOT SEALED: { $name }, { $role }, { $time }. { $record }
trialpage-foot-unfit = THE SEAL DOES NOT FIT: { $name }, { $role }, { $time }. { $record }
trialpage-foot-not-signed = NOT SIGNED. { $record }
trialpage-page = page { $number } of { $total }
