"""Durable events, replay, the look-back and what past cooks taught."""
