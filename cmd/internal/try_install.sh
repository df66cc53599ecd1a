#!/bin/sh
# try_install.sh installs into a folder of its own, looks whether all is there
# and valid, and takes it out again. A test of install.sh; stands in the
# module's root.
set -eu
dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT
fail() {
	printf 'install: %s\n' "$*" >&2
	exit 1
}

sh cmd/install.sh --prefix "$dir/a place"
root="$dir/a place"
desktop-file-validate "$root/share/applications/aftbay.desktop" || fail 'the menu entry is not valid'
grep -q '^50:application/vnd.aftbay.layout+zip:\*\.aftbay$' "$root/share/mime/globs2" || fail '.aftbay files are of no type'
grep -q 'application/vnd.aftbay.layout+zip=aftbay.desktop' "$root/share/applications/mimeinfo.cache" || fail '.aftbay files open with nothing'
"$root/bin/baycheck" demo "$dir/demo" >/dev/null || fail 'baycheck does not run from there'
"$root/bin/aftbay" --look nonesuch 2>&1 | grep -q 'no look' || fail 'aftbay does not run from there'
sh cmd/install.sh --prefix "$root" --remove
left=$(find "$root" -type f -name '*aftbay*' -o -type f -name 'baycheck')
[ -z "$left" ] || fail "left behind: $left"
if sh cmd/install.sh --prefix relative 2>/dev/null; then fail 'a relative folder was taken'; fi
if sh cmd/install.sh --nonesuch 2>/dev/null; then fail 'an unknown flag was taken'; fi
