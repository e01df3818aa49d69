"""The real program with a bug in it: python -m tests.reliability.mutated MUTANT cook --typed"""

import sys

from assistant.cli.main import main
from tests.reliability import patches

if __name__ == "__main__":
    with getattr(patches, sys.argv[1])():
        main(sys.argv[2:], prog_name="turnspit")
