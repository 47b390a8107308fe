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
measure-hint-blurred = Blurred: hold the tablet still.

# --- painting by taps --------------------------------------------------------------------------------------------

measure-no-border = No clear border runs around that spot. Paint it with the finger, or tap in the middle of another void.
