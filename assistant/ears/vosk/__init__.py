"""Vosk, where an English model is found."""
