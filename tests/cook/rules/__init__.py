"""What becomes of a command, an event, a moment: one module a topic."""
