"""The forms beside the desk: hand-off and search."""
