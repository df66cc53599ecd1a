#!/bin/sh
# open.sh builds aftbay and opens its demo layout. On Debian and Ubuntu it
# installs what is missing first. Without a display it writes the demo's review
# packet instead.
#
#   sh cmd/open.sh            the demo
#   sh cmd/open.sh LAYOUT     a layout folder, its layout.json or an .aftbay file
set -eu
cd "$(dirname "$0")/.."
. cmd/internal/setup.sh

layout=${1:-}
case $layout in
'' | /*) ;;
*) layout=$OLDPWD/$layout ;;
esac

# has_display says whether a window can open: an X display is named (Wayland
# desktops name one too) and answers, as far as this system can ask.
has_display() {
	[ -n "${DISPLAY:-}" ] || return 1
	if have_apt; then need_packages $display_packages; fi
	! command -v xset >/dev/null 2>&1 || xset q >/dev/null 2>&1
}

# write_packet answers the same questions into files.
write_packet() {
	out=${AFTBAY_OUT:-${TMPDIR:-/tmp}/aftbay-demo}
	say "there is no display here (DISPLAY is not set or does not answer), so no window can open."
	say "writing the review packet to $out instead."
	CGO_ENABLED=0 go build -o baycheck ./cmd/baycheck
	mkdir -p "$out"
	if [ -z "$layout" ]; then
		layout=$out/layout
		rm -rf "$layout"
		./baycheck demo "$layout"
	fi
	# 1 says that something is short or over: an answer, not a failure.
	code=0
	./baycheck report "$layout" --out "$out/packet" || code=$?
	[ "$code" -le 1 ] || exit "$code"
	say "read $out/packet/report.pdf"
}

need_go
if has_display; then
	need_packages $build_packages $window_packages
	say "building (some minutes the first time, seconds later) ..."
	CGO_ENABLED=1 go build -o aftbay ./cmd/aftbay
	if [ -n "$layout" ]; then exec ./aftbay "$layout"; else exec ./aftbay --demo; fi
fi
write_packet
