"""The analyst's bench: tables, strength windows, tolerances, strike-offs, striping."""
