"""What measuring on a photo comes to, counted on drawn pictures of known truth: `python -m tests.photo.figures`."""
