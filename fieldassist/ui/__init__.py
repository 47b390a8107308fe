"""The tablet's screens: they show a day and send commands; they decide nothing."""
