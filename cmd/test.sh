#!/bin/sh
# test.sh runs everything that must hold before a change goes in. On Debian and
# Ubuntu it installs what is missing first.
#
#   sh cmd/test.sh            vet, all tests, the race detector, the real window
#   sh cmd/test.sh --quick    no race detector and no window: needs only Go
#   sh cmd/test.sh --long     also fuzzes every reader, FUZZ_TIME each (default 60s)
set -eu
cd "$(dirname "$0")/.."
. cmd/internal/setup.sh

mode=${1:-}
case $mode in
'' | --quick | --long) ;;
*)
	say "unknown flag $mode: there are --quick and --long"
	exit 2
	;;
esac

# step names what runs next, so that a log reads by itself.
step() { printf '\n== %s\n' "$*"; }

# The tag ci makes the toolkit draw in memory: no C, no display.
plain='env CGO_ENABLED=0'

need_go
[ "$mode" = --quick ] || need_packages $build_packages $window_packages $test_packages

step 'vet'
$plain go vet -tags ci ./...

step 'tests, without C and without a display'
$plain go test -tags ci ./...

if [ "$mode" = --quick ]; then exit 0; fi

step 'race detector where work runs in parallel'
CGO_ENABLED=1 go test -race ./geom/... ./thermal/... ./gui/desk/...

step 'the real window, on a display of its own'
CGO_ENABLED=1 go vet -tags window ./cmd/aftbay
CGO_ENABLED=1 xvfb-run -a -s '-screen 0 1920x1080x24 -nolisten tcp' \
	go test -count=1 -tags window -run 'Window' -v ./cmd/aftbay

if [ "$mode" != --long ]; then exit 0; fi

step 'fuzzing every reader'
fuzz_time=${FUZZ_TIME:-60s}
grep -rl --include='*_test.go' '^func Fuzz' geom thermal gui cmd | while read -r file; do
	sed -n 's/^func \(Fuzz[A-Za-z0-9_]*\)(.*/\1/p' "$file" | while read -r target; do
		$plain go test -tags ci -run '^$' -fuzz "^$target\$" -fuzztime "$fuzz_time" "./$(dirname "$file")" </dev/null
	done
done
