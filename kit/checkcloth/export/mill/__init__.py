"""Threads and drafts for a weaver or a mill."""
