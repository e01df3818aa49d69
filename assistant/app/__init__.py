"""What the program does: one file a verb."""
