"""Many colourways at once: variants, scores, search."""
