"""Everything for a printer, a mill or a shop, in one folder."""
