"""The lesson in mixing."""
