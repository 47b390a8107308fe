"""What screens show, made ready without Kivy: what is kept, entered, found and put into words."""
