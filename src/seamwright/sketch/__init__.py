"""Changes to a block's text form, made from the page: lines, fabrics, grid, size."""
