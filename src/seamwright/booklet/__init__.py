"""The class handout: one file from the list of what to buy to the finished block."""
