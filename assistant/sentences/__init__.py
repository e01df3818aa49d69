"""Meaning to words: every sentence that is ever spoken or printed."""
