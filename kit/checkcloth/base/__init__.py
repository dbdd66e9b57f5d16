"""Files, pictures and HTML at their plainest: below every room, knowing nothing of colour."""
