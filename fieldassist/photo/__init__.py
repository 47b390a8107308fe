"""The back of a lifted piece on its photo: squared up, painted, measured, and what the photo cannot tell.

Pure: no screen, no file, no clock. `back` is the painting and its reckoning.
"""
