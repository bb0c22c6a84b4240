#!/bin/sh
# Properties that a spec may state and nothing reads: see tests/run/read.py.

here=$(cd "$(dirname "$0")" && pwd)
exec "${PYTHON:-/usr/bin/python3}" "$here/read.py"
