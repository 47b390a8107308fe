# The pages on which a back is measured on its photo.

# --- what is asked first
measuring-title = Back of { $what ->
    [sample] sample { $number }
   *[piece] piece { $number }
}
measuring-none = No piece is off, and no sample is looked at
measuring-back = Back
measuring-eye-first = By eye first: how much?
measuring-eye-why = Tell it before the photo does. It stands beside the photo's figure, and over days the difference is your own eye's.
measuring-eye-tell = Tell it by eye
measuring-eye-none = No eye
measuring-eye-ask = How much is covered, by eye?
measuring-kind = What was on the back?
measuring-kind-why = Before the piece was set. On a skim-coated or combed back the colour says nothing of what touched: there the voids are painted.
measuring-kind-bare = Bare
measuring-kind-skim-coated = Skim-coated
measuring-kind-combed = Combed too
measuring-kind-clear-sheet = Clear sheet
measuring-was-coated = The record says that this back was keyed or combed before the piece was set: mortar lies on it that need not have touched.
measuring-bare-all-the-same = Bare all the same

# --- the photo
measuring-photo = Photograph the back
measuring-photo-how = Level over the piece, all four corners in the picture, your shadow over all of it or none.
measuring-photo-sheet = A dark board over the sheet, one lamp low from the side, the tablet level: nothing may mirror in it.
measuring-photo-past = Only a photo that was kept with it then can be measured now.
measuring-photo-take = Photograph
measuring-photo-pick = Pick a photo
measuring-photo-kept = Photo of { $at }
measuring-photo-again = New photo
measuring-photo-other = Another photo
measuring-photo-drops = A new photo takes away what was tapped and painted on this one.
measuring-seeing = The photo is opened.
measuring-here = Measure the back

# --- corners
measuring-corners = Set the four corners
measuring-corners-how = Drag each ring until the cross lies on the corner. The keys move it by one dot.
measuring-corners-right = Corners are right
measuring-corners-next = Next corner
measuring-left = Left
measuring-right = Right
measuring-up = Up
measuring-down = Down
measuring-squaring = The photo is squared up.
measuring-all-the-same = Paint it all the same

# --- taps
measuring-tap = { $what ->
    [mortar] Tap mortar that touched: { $count } of { $most }
   *[bare] Tap bare back: { $count } of { $most }
}
measuring-tap-how = In the middle of clear spots, far from each other.
measuring-tap-done = Enough is tapped; up to { $most } of each make it surer
measuring-tapped-mortar = Mortar
measuring-tapped-bare = Bare
measuring-no-bare = No bare spot
measuring-tap-full = { $most } are enough. Take one back, or find the voids.
measuring-tap-first = Tap three spots of each first.
measuring-find = Find the voids
measuring-finding = The voids are sought.
measuring-paint = Paint the voids
measuring-tap-anew = Tap anew
measuring-by-eye = By eye

# --- the finding
measuring-found = Is this what has no mortar?
measuring-found-how = Paint what is wrong: mortar that tore off clean did touch.
measuring-painting-how = { $tool ->
    [fill] Tap a void: it fills to its border. A second tap takes it away.
    [mortar] Strokes take away what is no void.
   *[void] Strokes are void. Fill takes a tap.
}
measuring-fill = Fill
measuring-closer = Closer
measuring-next-part = Next part
measuring-whole = Whole
measuring-between = { $low }–{ $high }
measuring-circle = { $circle } circle
measuring-keep = Keep it: { $contact }
measuring-keep-cannot = Keep the photo
measuring-keeping = It is kept.
measuring-follows = These follow what is painted. What was read by eye is typed on the lift's page.
measuring-cannot-tell = The photo cannot tell { $required }. { $fails ->
    [yes] It fails in any case: read by eye.
   *[no] Lift another, or read by eye.
}
measuring-lift-another = Lift another
measuring-painted-by = Painted on the photo by { PERSON($name) }
measuring-proposed-by = Measured on the photo, confirmed by { PERSON($name) }
measuring-corrected-by = Measured on the photo, put right by { PERSON($name) }
measuring-again = Measure
measuring-by-photo = Photo: { $value }
measuring-needed = Needed: { $required }
