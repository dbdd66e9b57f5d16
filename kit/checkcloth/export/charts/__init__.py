"""Charts of scores and tones."""
