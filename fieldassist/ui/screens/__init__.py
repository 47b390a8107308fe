"""The screens: each shows the day as it stands and sends commands, through the `Tablet` of `ui.tablet` alone."""
