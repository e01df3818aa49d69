"""Meaning from words nobody prescribed: see `understand`."""
