#!/bin/sh
# The documents are tests: see tests/run/docs.py, which says what is checked. ACCEPT=1 rewrites what is out of date.

here=$(cd "$(dirname "$0")" && pwd)
exec "${PYTHON:-/usr/bin/python3}" "$here/docs.py"
