"""python -m fieldassist"""

import sys

from fieldassist.cli import main

if __name__ == "__main__":
    sys.exit(main())
