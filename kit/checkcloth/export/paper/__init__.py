"""Specification sheets and reports."""
