"""Sound to words: microphone, recordings, end of speech, recognisers, the choice."""
