"""Tones to pictures and files."""
