# What a photo of a lifted back tells, and why it does not.

# --- squaring up -------------------------------------------------------------------------------------------------

measure-corners-count = { $count } corners are set; set four, one at each corner of the piece.
measure-corners-one = Two corners lie on one spot: set one at each corner of the piece.
measure-corners-cross = These four are no corners of a piece: the lines between them cross, or three lie in a line. Set one at each corner of the piece.
measure-corner-outside = The { $corner } corner lies outside the photo. Photograph again with all of the piece in the picture.
measure-too-aslant = The photo was taken { $degrees } degrees aslant, too much to measure on. Hold the tablet level over the piece and photograph again.
measure-too-small = The piece is too small in the photo: one dot of it shows { $seen }, and { $most } at most can be measured on. Go nearer until the piece fills the picture and photograph again.
measure-other-angles = These corners do not belong to a piece of { $long } × { $short }: the angles between them are no right ones. Look at each corner.
measure-other-proportion = These corners do not belong to a piece of { $long } × { $short }: its sides are as { $right } to 1, and these as { $seen } to 1. Look at each corner, and at the size.
measure-corner-upper-left = upper left
measure-corner-upper-right = upper right
measure-corner-lower-right = lower right
measure-corner-lower-left = lower left

# --- fit to be measured on ---------------------------------------------------------------------------------------

measure-dark = { $share } of the tile is too dark to tell anything. Get light on it and photograph again.
measure-burnt = { $share } of the tile is burnt white. Shade it and photograph again.
measure-blurred = The photo is blurred. Hold the tablet still, wipe its lens and photograph again.
measure-no-sides = No border of a tile is seen along one of its sides at least. Look at the corners, or lay the tile on a ground of another colour and photograph again.
measure-hint-dark = Too dark: get light on the tile.
measure-hint-burnt = Too bright: shade the tile.
measure-hint-glare = A light is mirrored in the tile: turn it or shade it.
measure-hint-aslant = Aslant: hold the tablet level over the tile.
measure-hint-blurred = Blurred: hold the tablet still.

# --- painting by taps --------------------------------------------------------------------------------------------

measure-no-border = No clear border runs around that spot. Paint it with the finger, or tap in the middle of another void.

# --- mortar and bare back told apart by taps ---------------------------------------------------------------------

measure-nothing-bare = No bare spot was tapped. A photo cannot tell that all of it is mortar: read the coverage by eye, or paint what is bare.
measure-taps-count = Tap { $least } to { $most } places of mortar that touched, and as many of bare back; three of each are best.
measure-tap-off-the-piece = One of the taps lies beside the piece. Tap on its back.
measure-mortar-tap-contradicts = { $tap ->
    [1] The first mortar tap looks like bare back. Take it back, or tap where mortar touched.
    [2] The second mortar tap looks like bare back. Take it back, or tap where mortar touched.
    [3] The third mortar tap looks like bare back. Take it back, or tap where mortar touched.
    [4] The fourth mortar tap looks like bare back. Take it back, or tap where mortar touched.
    [5] The fifth mortar tap looks like bare back. Take it back, or tap where mortar touched.
   *[other] The sixth mortar tap looks like bare back. Take it back, or tap where mortar touched.
}
measure-bare-tap-contradicts = { $tap ->
    [1] The first tap on bare back looks like mortar. Take it back, or tap where the back is clean.
    [2] The second tap on bare back looks like mortar. Take it back, or tap where the back is clean.
    [3] The third tap on bare back looks like mortar. Take it back, or tap where the back is clean.
    [4] The fourth tap on bare back looks like mortar. Take it back, or tap where the back is clean.
    [5] The fifth tap on bare back looks like mortar. Take it back, or tap where the back is clean.
   *[other] The sixth tap on bare back looks like mortar. Take it back, or tap where the back is clean.
}
measure-like-neither = { $share } of the piece looks like neither the mortar nor the bare back that was tapped. Look at the corners and the taps, wipe off what does not belong there, or paint what is bare.
measure-one-material = Mortar and bare back differ here only as light and shade do on one material. Of a back that was skim-coated or combed one photo cannot tell what touched: read the coverage by eye, or paint what is bare.
measure-too-alike = Mortar and bare back look too much alike in this photo. Photograph again in even shade, or paint what is bare.
measure-hangs-on-one-tap = The figure hangs on a single tap: without it, it moves by { $points } points. Tap again on clean spots, photograph in even light, or paint what is bare.
measure-two-ways-differ = Two ways of reading the photo differ by { $points } points. Photograph again in even light without glare, or paint what is bare.

# --- what was keyed or combed --------------------------------------------------------------------------------------

measure-keyed = On a back that was skim-coated or combed, mortar that touched and mortar that did not look alike: one photo gives no percentage. Read it by eye with a grid, or paint the voids on the photo.

# --- two lights, and a clear sheet -------------------------------------------------------------------------------

measure-two-lights-too-alike = Even by two lights what touched and what never did cannot be told apart here. Lay the lamp lower in the second photo, keep the tile where it is, or paint the voids.
measure-sheet-rule = hold a dark board over the sheet so that it mirrors nothing, lay one lamp low beside it, and hold the tablet level.
measure-sheet-painted = Through a clear sheet no percentage is reckoned: ridges behind it look too much like mortar that touches. Paint the voids on the photo. So that they are seen: { $rule }
