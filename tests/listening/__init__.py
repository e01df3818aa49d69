"""Evenings in the cook's own words, with what must and must not be said."""
