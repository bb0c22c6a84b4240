#!/bin/sh
# What a finding would hold with, held against what the program says of it then.
set -eu
exec "$PYTHON" "$TESTS_DIR/run/remedies.py" "$GARBOARD" "$TESTS_DIR/../docs/rules.md"
