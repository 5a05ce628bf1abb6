"""The page in the browser: a small server on this computer, and the files it serves."""
