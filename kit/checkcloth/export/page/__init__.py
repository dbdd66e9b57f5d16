"""Pages that travel: one file for a browser, live without a kernel."""
