"""What a check is: lengths, bands, palettes, mixings, colourways, chosen sets."""
