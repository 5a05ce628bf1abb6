"""`python -m seamwright` is the command `seamwright`."""

from seamwright.start import run

if __name__ == "__main__":
    run()
