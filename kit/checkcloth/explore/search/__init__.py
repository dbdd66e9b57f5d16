"""The search: every colourway that a palette holds, and the best of them that differ."""
