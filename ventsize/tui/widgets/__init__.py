"""The building blocks of the screens. Nothing here knows what a vent is."""
