"""`python -m seamwright` is the command `seamwright`."""

from seamwright.cli import run

if __name__ == "__main__":
    run()
