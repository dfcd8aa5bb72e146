#!/bin/bash
# Measures the ear on songs with known beats, bars and onsets, beside aubio
# hearing the same files, and prints one table.
#
#   testdata/eval-ear.sh [DATA]
#
# EARS_DIR names the folder with the measuring scripts (make_data.py, run.py,
# table.py); it must be given. DATA keeps the
# songs, about 0.9 GB that are made once in some five minutes; out/ears if not
# given. Needs Debian's apt for the songs' sources, and python3-aubio.
set -euo pipefail
cd "$(dirname "$0")/.."
root=$PWD
ears=${EARS_DIR:-}
data=$(realpath -m "${1:-out/ears}")

for script in make_data.py run.py table.py; do
	if [ ! -f "$ears/$script" ]; then
		echo "eval-ear: $ears/$script is missing: name the folder with the measuring scripts in EARS_DIR" >&2
		exit 2
	fi
done

# The scripts save beside themselves: they work on a copy.
mkdir -p "$data/scripts"
cp -r "$ears/." "$data/scripts/"
chmod -R u+w "$data/scripts"
mkdir -p "$data/scripts/results"

CGO_ENABLED=0 go build -o "$data/emberbeat" ./cmd/emberbeat
cd "$data/scripts"

tracks=$(/usr/bin/python3 -c 'import tracklist; print(len(tracklist.load()))')
if [ "$(ls "$data"/truth/*.json 2>/dev/null | wc -l)" -lt "$tracks" ]; then
	echo "eval-ear: making $tracks songs in $data, some five minutes" >&2
	/usr/bin/python3 make_data.py "$data"
fi
if ! /usr/bin/python3 -c 'import aubio' 2>/dev/null; then
	apt-get install -y --no-install-recommends python3-aubio >/dev/null
fi

# Nothing may come out of a cache: the figures include the work.
cache=$(mktemp -d)
trap 'rm -rf "$cache"' EXIT
for who in ours aubio; do
	case $who in
	ours) command="env XDG_CACHE_HOME=$cache $data/emberbeat analyse --quiet --json {}" ;;
	aubio) command="/usr/bin/python3 adapters/aubio_peer.py default {}" ;;
	esac
	echo "eval-ear: $who" >&2
	/usr/bin/python3 run.py --data "$data" --split dev --jobs 1 --cmd "$command" --save "$who" | tail -n 14
done
/usr/bin/python3 table.py dev
cd "$root"
