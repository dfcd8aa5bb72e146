#!/bin/bash
# Measures `match` on pairs of recordings whose time map is known, and prints
# the tables of how well cues are carried, and time and memory.
#
#   testdata/eval-match.sh [DATA] [WORDS FOR score.py…]
#
# MATCH_DIR names the folder with the measuring scripts (make_cases.py,
# score.py); it must be given. DATA keeps the pairs, about 1.2 GB that are made
# once in half an hour; out/match if not given. MATCH_FEW=1 makes a quarter of
# them. Needs Debian's apt for the songs.
#
#   testdata/eval-match.sh out/match --only A,B --details verdicts.json
set -euo pipefail
cd "$(dirname "$0")/.."
scripts=${MATCH_DIR:-}
data=$(realpath -m "${1:-out/match}")
[ $# -eq 0 ] || shift

for script in make_cases.py score.py; do
	if [ ! -f "$scripts/$script" ]; then
		echo "eval-match: $scripts/$script is missing: name the folder with the measuring scripts in MATCH_DIR" >&2
		exit 2
	fi
done

if [ ! -f "$data/cases.json" ]; then
	echo "eval-match: making pairs of recordings in $data" >&2
	mkdir -p "$data"
	/usr/bin/python3 "$scripts/make_cases.py" "$data" ${MATCH_FEW:+--few} >"$data/made.log" || { tail -n 5 "$data/made.log" >&2; exit 1; }
fi

# Nothing may come out of a cache: the figures include the work.
program=$(mktemp -d)
trap 'rm -rf "$program"' EXIT
CGO_ENABLED=0 go build -o "$program/emberbeat" ./cmd/emberbeat
/usr/bin/python3 "$scripts/score.py" --cmd "env XDG_CACHE_HOME=$program/cache GOMAXPROCS=${MATCH_CORES:-1} $program/emberbeat match {old} {new} --json" "$data" "$@"
