#!/usr/bin/env bash
# Sees to a Chromium for the tests that use the page as a maker would. Debian's is taken where it may be installed.
set -eu

for name in chromium chromium-browser google-chrome; do
  if command -v "$name" > /dev/null; then exit 0; fi
done

if [ "$(id -u)" = 0 ] && command -v apt-get > /dev/null; then
  echo "==> Installing Chromium (about 110 MB to fetch, 420 MB on disk)"
  export DEBIAN_FRONTEND=noninteractive
  wait=(-o DPkg::Lock::Timeout=120 -o Acquire::Retries=3)
  apt-get "${wait[@]}" update -qq
  apt-get "${wait[@]}" install -qq -y --no-install-recommends chromium fonts-dejavu-core > /dev/null
  exit 0
fi

echo "The tests of the page need Chromium, and it is not there." >&2
echo "On Debian or Ubuntu: sudo apt-get install chromium. Elsewhere: put a chromium on the PATH." >&2
echo "Without it, run make test-fast: it leaves out what needs a browser." >&2
exit 1
