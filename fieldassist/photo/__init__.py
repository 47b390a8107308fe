"""What the back of a lifted piece shows: painted with a finger, and reckoned.

Pure: no screen, no file, no clock. `back` is the painting and its reckoning.
"""
