"""Plates, films and proofs for a printer."""
