"""An open job: its data, its fields, its screen."""
