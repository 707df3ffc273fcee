"""The second process of `worker`: `python -m generator.solid`."""

import os
import sys

from generator.solid.worker import serve

if __name__ == "__main__":
    serve()
    sys.stderr.flush()
    # The files are written and the answer is given; taking the kernel down in order would only cost time.
    os._exit(0)
