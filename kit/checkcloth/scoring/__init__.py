"""How far tones stand apart, and what the cloth does as a whole."""
