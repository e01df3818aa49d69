"""Words to meaning: the command grammar, spoken numbers, the recognisers' network."""
