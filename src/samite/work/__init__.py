"""What to do, in what order, with the fewest change-overs and done by the day."""
