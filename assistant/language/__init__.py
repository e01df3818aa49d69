"""Words to meaning and back: the grammar, spoken numbers, and every sentence spoken."""
