"""Measured spectra: reading them, their colour under the lights of the CIE, blends of yarn."""
