"""Turnspit: an assistant for the cook who roasts whole birds on a spit."""
