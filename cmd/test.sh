#!/bin/sh
# test.sh runs everything that must hold before a change goes in. On Debian and
# Ubuntu it installs what is missing first.
#
#   sh cmd/test.sh            vet, all tests, the race detector, the real window, and
#                             fuzzes what reads files from outside, 30 s each
#   sh cmd/test.sh --quick    no race detector, window or fuzzing: needs only Go
#   sh cmd/test.sh --long     fuzzes every target instead, FUZZ_TIME each (default 60s)
#   sh cmd/test.sh --soak H   a random user at the real window for H hours, and nothing else
set -eu
cd "$(dirname "$0")/.."
. cmd/internal/setup.sh

mode=${1:-}
case $mode in
'' | --quick | --long) ;;
--soak)
	hours=${2:-8}
	need_go
	need_packages $build_packages $window_packages $test_packages
	AFTBAY_SOAK=$hours CGO_ENABLED=1 xvfb-run -a -s '-screen 0 1920x1080x24 -nolisten tcp' \
		go test -count=1 -timeout 0 -tags window -run Soak -v ./cmd/aftbay
	exit 0
	;;
*)
	say "unknown flag $mode: there are --quick, --long and --soak HOURS"
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
CGO_ENABLED=1 go test -race -tags ci ./geom/... ./thermal/... ./gui/desk ./gui/view3d ./gui/review ./gui/patient ./gui/journal ./gui/claim

step "the packet's page in a browser"
need_browser
if have_browser; then AFTBAY_BROWSER=must; else AFTBAY_BROWSER=; fi
$plain AFTBAY_BROWSER=$AFTBAY_BROWSER go test -count=1 -tags ci -run 'Browser' -v ./gui/report

step 'the real window, on a display of its own'
CGO_ENABLED=1 go vet -tags window ./cmd/aftbay
CGO_ENABLED=1 xvfb-run -a -s '-screen 0 1920x1080x24 -nolisten tcp' \
	go test -count=1 -timeout 40m -tags window -run 'Window' -v ./cmd/aftbay

step 'installing into a folder, and taking it out again'
sh cmd/internal/try_install.sh

# fuzz FILE TARGET TIME runs one fuzz target. Go may end one with "context
# deadline exceeded" when its time is up and the machine is busy: that is no
# finding, a finding names the input that it wrote. No target of that name is one.
fuzz() {
	log=$(mktemp)
	$plain go test -tags ci -run '^$' -fuzz "^$2\$" -fuzztime "$3" -fuzzminimizetime 1000x "./$(dirname "$1")" </dev/null >"$log" 2>&1 || {
		grep -q 'context deadline exceeded' "$log" && ! grep -q 'Failing input\|panic:' "$log"
	} && grep '^fuzz: elapsed' "$log" | tail -n 1 | grep . || {
		cat "$log"
		rm -f "$log"
		say "fuzzing $2 failed"
		exit 1
	}
	rm -f "$log"
}

# targets lists the fuzz targets: file and name.
targets() {
	grep -r --include='*_test.go' '^func Fuzz' geom thermal gui cmd | sed -n 's/^\([^:]*\):func \(Fuzz[A-Za-z0-9_]*\)(.*/\1 \2/p' | sort
}

if [ "$mode" = --long ]; then
	step 'fuzzing every target'
	targets | while read -r file target; do fuzz "$file" "$target" "${FUZZ_TIME:-60s}"; done
	exit 0
fi

step 'fuzzing what reads files from outside'
fuzz geom/mesh/read_test.go FuzzReadSTL "${FUZZ_TIME:-30s}"
fuzz geom/layout/faults_test.go FuzzDecode "${FUZZ_TIME:-30s}"
fuzz geom/layout/fuzz_test.go FuzzReadPositions "${FUZZ_TIME:-30s}"
fuzz geom/layout/fuzz_test.go FuzzOpenPacked "${FUZZ_TIME:-30s}"
