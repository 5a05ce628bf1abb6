"""What to cut of each fabric, and how much of it to buy."""
