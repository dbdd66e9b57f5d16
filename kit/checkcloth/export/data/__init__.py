"""Sets, tables, design tokens and CSS as files."""
