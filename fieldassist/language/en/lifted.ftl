# The pages of a lift, and of one that failed.

# --- the back
lifted-title = Lift { $lift }: { $needed }
lifted-title-bare = Lift { $lift }
lifted-piece = piece { $piece }
lifted-why = Why: { $why }
lifted-lift-piece = Lift piece { $piece }
lifted-coverage = Coverage
lifted-void = Largest void
lifted-corners = Corners
lifted-edges = Edges
lifted-bed = Bed
lifted-not-told = –
lifted-not-measured = no gauge
lifted-most = max { $end }
lifted-least = min { $end }
lifted-between = { $least } to { $most }
lifted-lift-first = Lift the piece first.
lifted-all-full = all full
lifted-not-full = not full
lifted-at-top-left = top left
lifted-at-top-right = top right
lifted-at-bottom-left = bottom left
lifted-at-bottom-right = bottom right
lifted-at-top = top
lifted-at-right = right
lifted-at-bottom = bottom
lifted-at-left = left
lifted-how = The back, seen as it lies: paint what has no mortar
lifted-void-brush = Void
lifted-mortar-brush = Mortar
lifted-all-mortar = All mortar
lifted-undo = Undo
lifted-photo = Photo
lifted-yes = Yes: { $contact }, passed
lifted-fails-keep = Fails: keep { $contact }
lifted-look-first = Look at the back first
lifted-tell-first = Tell first: { $what }
lifted-say = “{ $phrases }”
lifted-phrase = { $before }{ $value }{ $after }
lifted-label = Label
lifted-label-given = Label: { $label }
lifted-label-ask = What is written on the lifted piece?
lifted-cannot = Cannot be lifted
lifted-none-at-hand = No piece is lifted now
lifted-no-area = No area is open
lifted-last = Lift { $lift }, piece { $piece }: { $contact }, { $verdict ->
    [passed] passed
    [failed] failed
   *[not-complete] not complete
}
lifted-to-cure = To the failed lift
lifted-to-work = Go on: Work
lifted-nothing-to-undo = Nothing is painted yet.

# --- a failed lift
lifted-failed-contact = { $contact }, needs { $needed }
lifted-failed-void = Void { $void }, max { $most }
lifted-failed-corner = A corner is not full
lifted-failed-edge = A void at an edge
lifted-failed-other = The lift fails
lifted-failed-which = lift { $lift }, piece { $piece }
lifted-suspects = Suspect: { $pieces }
lifted-no-suspects = No piece is suspect
lifted-which-change = Which change goes on the wall?
lifted-changed = Changed to this:
lifted-no-cure = No notch of the plan fills this gap: alter the base, or show another way by a mock-up.
lifted-gap = gap { $gap }
lifted-gap-unknown = gap not known
lifted-bed-of = bed { $bed }
lifted-air = air { $air }
lifted-notch = { $size } { $family }
lifted-sides-one = base only
lifted-sides-both = base and tile
lifted-cure-reaches = reaches { $contact }
lifted-cure-bed = bed { $bed } of { $most }
lifted-change-signed = Change: { PERSON($name) } signs it
lifted-change = Change the method
lifted-signs = { PERSON($name) } signs it
lifted-called = Called in { PERSON($name) }'s name
lifted-scraped = { $step }: piece { $piece }
lifted-lift-next = Lift piece { $piece }
lifted-take-off = Take off { $pieces }
lifted-lift-after = The lift of piece { $piece } comes as soon as the step at hand is done.
lifted-none-failed = No failed lift is open
