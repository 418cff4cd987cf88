"""Run every check of Hilum: set up as packaging/run.py does, with the tools of the checks on top.

python3 packaging/test.py                      everything
python3 packaging/test.py tests/labels -k qr   everything, but only these tests
"""

import sys

from run import refuse_old_python

if __name__ == "__main__":
    refuse_old_python()
    import checks

    sys.exit(checks.main(sys.argv[1:]))
