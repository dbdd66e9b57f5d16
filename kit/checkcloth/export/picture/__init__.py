"""Tones to pixels, vectors and sheets."""
