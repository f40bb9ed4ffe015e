"""What screens show and change, without the screen library: typed, and tested without a terminal."""
