"""What screens are made of: each takes what it shows, and knows neither the tablet nor a day."""
