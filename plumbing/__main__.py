"""`python -m plumbing`."""

from plumbing.cli import main

if __name__ == "__main__":
    main()
