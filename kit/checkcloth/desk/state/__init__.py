"""What a desk holds, frozen, and the pure functions that change it."""
