"""A bird over the fire: conduction, evidence and forecasts."""
