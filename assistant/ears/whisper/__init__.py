"""Whisper, held to the grammar."""
