"""The commands, one module each; heavy imports stay inside, so that help is there at once."""
