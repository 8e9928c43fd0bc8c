#!/usr/bin/env bash
# Makes .venv with the first Python of 3.11 or later that it finds, or says what to do.
set -eu

fits() { "$1" -c 'import sys; raise SystemExit(sys.version_info < (3, 11))' 2>/dev/null; }

chosen=""
for candidate in ${PYTHON:-} python3 python3.14 python3.13 python3.12 python3.11 python; do
  if command -v "$candidate" >/dev/null 2>&1 && fits "$candidate"; then
    chosen="$candidate"
    break
  fi
done

if [ -z "$chosen" ]; then
  echo "bossage needs Python 3.11 or later, and none was found on this machine."
  echo "Install it (on Debian or Ubuntu: apt install python3 python3-venv) and run make again,"
  echo "or name it: make PYTHON=/path/to/python3.12 demo"
  exit 1
fi

rm -rf .venv
if ! said="$("$chosen" -m venv .venv 2>&1)"; then
  rm -rf .venv
  version="$("$chosen" -c 'import sys; print("%d.%d" % sys.version_info[:2])')"
  echo "$chosen is Python $version, but it cannot make an environment of its own:"
  echo "$said"
  echo "On Debian and Ubuntu this part is a package of its own. Run this, then make again:"
  echo "  sudo apt install python$version-venv"
  exit 1
fi
