"""Exercise sheets as text and as papers."""
