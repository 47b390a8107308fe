"""The page `assets/verify.html` in real browsers: a command of its own, since a bare machine has none.

`python -m tests.browsers` opens it from its file in every browser that is installed (Debian: chromium, firefox-esr),
hands it a good day and many changed ones by its own file picker, and reads what it says of each.
"""
