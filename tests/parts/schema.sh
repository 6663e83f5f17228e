#!/bin/sh
# The JSON Schemas, held against examples and fault cases by an outside validator.  schema.sh BUILD_DIR
set -u
cd "$(dirname "$0")/../.." || exit 1
for python in python3 /usr/bin/python3; do
  "$python" -c 'import jsonschema, yaml; jsonschema.Draft202012Validator' 2>/dev/null && exec "$python" -W ignore tests/schema.py "$1/pitwright"
done
echo "FAIL schema (python3-jsonschema and python3-yaml are needed: make deps-test)"
