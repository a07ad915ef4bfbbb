#!/bin/sh
# Two general rectangle packers beside the panel layouts: sheets for the open
# problems of one sheet size. Left out where there is no Node or no network.
#
#   packers.sh DIR [ANSWERS]   the problems; what Casewright made of them
set -e
kept=${2:+$(realpath "$2")}
cd "$(dirname "$0")/../bench/packers"
files=$(cd "$OLDPWD" && ls "$1"/2d_*.jsonl 2>/dev/null | xargs -r realpath) || true
[ -n "$files" ] || exit 0
command -v node >/dev/null || { echo "no Node: the comparison with rectangle packers is left out"; exit 0; }
[ -d node_modules ] || npm install --ignore-scripts --no-audit --no-fund --no-package-lock >/dev/null 2>&1 || { echo "the rectangle packers could not be fetched: left out"; exit 0; }
node compare.mjs ${kept:+-kept "$kept"} $files
