"""Colour arithmetic on arrays; knows nothing of cloth."""
