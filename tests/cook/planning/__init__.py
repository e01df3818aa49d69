"""The whole dinner planned: when what is bought, lit, put on and eaten."""
