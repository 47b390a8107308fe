"""The record of a day: an append-only, hash-chained log that survives what a site does to a tablet."""
