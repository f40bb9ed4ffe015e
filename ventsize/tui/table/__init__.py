"""Typing in an allowance table."""
