"""Findings and results as terminal text, JSON, pages and papers. Returns text, writes nothing."""
