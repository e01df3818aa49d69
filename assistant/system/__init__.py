"""The computer below: clock, places, child processes, units."""
