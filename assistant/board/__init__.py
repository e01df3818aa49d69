"""The console display: what a cook needs at a glance, readable from two metres."""
