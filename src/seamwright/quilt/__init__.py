"""The whole quilt: blocks rotated, reversed and set, with all that lies round them."""
