"""Files, CSV rows, JSON, PNG and HTML at their plainest; knows no colour."""
