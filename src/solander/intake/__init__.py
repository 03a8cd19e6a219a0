"""Ways in: whatever the source, everything arrives as an `Arrival`."""
