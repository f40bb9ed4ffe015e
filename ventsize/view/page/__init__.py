"""A page of allowances as it is printed: what its cells say, how they are laid out, and a block pasted from it."""
