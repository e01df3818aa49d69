"""The live cook: microphone, turn taking, speaker and session around one loop."""
