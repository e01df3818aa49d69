"""Words to sound: one speaker thread, an urgency queue, WAV files."""
