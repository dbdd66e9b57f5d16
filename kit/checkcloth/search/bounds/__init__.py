"""Bounding: floors that are let down, and colourings that say what cannot be."""
