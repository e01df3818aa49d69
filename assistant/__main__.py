"""`python -m assistant`: the same as `turnspit`."""

from assistant.cli.main import main

if __name__ == "__main__":
    main()
