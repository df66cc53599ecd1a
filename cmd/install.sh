#!/bin/sh
# install.sh builds aftbay and baycheck and puts them where the desktop finds
# them: programs, menu entry, icon, and .aftbay files that open with a double
# click. Nothing outside the prefix is touched; no rights are needed for the
# default one.
#
#   sh cmd/install.sh                      into ~/.local, for this user
#   sh cmd/install.sh --prefix /usr/local  for everybody (as root)
#   sh cmd/install.sh --remove             takes it out again, settings stay
set -eu
cd "$(dirname "$0")/.."
. cmd/internal/setup.sh

usage() {
	say "$1: there are --prefix DIR and --remove"
	exit 2
}

prefix=$HOME/.local
remove=
while [ $# -gt 0 ]; do
	case $1 in
	--prefix)
		[ -n "${2:-}" ] || usage "--prefix needs a folder"
		prefix=$2
		shift
		;;
	--remove) remove=yes ;;
	*) usage "unknown flag $1" ;;
	esac
	shift
done
case $prefix in
/*) ;;
*) usage "the folder $prefix must be given from the root, with / first" ;;
esac
share=$prefix/share
entry=$share/applications/aftbay.desktop
kind=$share/mime/packages/aftbay.xml
icons=$share/icons/hicolor

# tell_desktop brings the desktop's own lists up to date, as far as its tools
# are here; a desktop without them reads the files at the next login.
tell_desktop() {
	if command -v update-mime-database >/dev/null 2>&1; then update-mime-database "$share/mime"; fi
	if command -v update-desktop-database >/dev/null 2>&1; then update-desktop-database -q "$share/applications"; fi
	if command -v gtk-update-icon-cache >/dev/null 2>&1; then gtk-update-icon-cache -q -t -f "$icons" 2>/dev/null || true; fi
}

if [ -n "$remove" ]; then
	rm -f "$prefix/bin/aftbay" "$prefix/bin/baycheck" "$entry" "$kind" "$icons/512x512/apps/aftbay.png" "$icons/scalable/apps/aftbay.svg"
	if [ -d "$share/mime/packages" ]; then tell_desktop; fi
	say "taken out of $prefix. Settings stay; they lie where 'aftbay' keeps them for each user."
	exit 0
fi

need_go
case $(uname -s) in
Linux) need_packages $build_packages $window_packages ;;
*) say "menu entry and file type are for Linux desktops; here only the programs are of use." ;;
esac
mkdir -p "$prefix/bin" "$share/applications" "$share/mime/packages" "$icons/512x512/apps" "$icons/scalable/apps"
say "building (some minutes the first time, seconds later) ..."
CGO_ENABLED=1 go build -ldflags='-s -w' -o "$prefix/bin/aftbay" ./cmd/aftbay
CGO_ENABLED=0 go build -ldflags='-s -w' -o "$prefix/bin/baycheck" ./cmd/baycheck
# The entry names the program by its place: ~/.local/bin is not on every PATH.
sed "s|^Exec=aftbay |Exec=\"$prefix/bin/aftbay\" |" assets/aftbay.desktop >"$entry"
cp assets/aftbay-mime.xml "$kind"
cp assets/icon.png "$icons/512x512/apps/aftbay.png"
cp assets/icon.svg "$icons/scalable/apps/aftbay.svg"
tell_desktop
say "installed into $prefix: aftbay and baycheck in $prefix/bin, and a menu entry. Take it out again: sh cmd/install.sh --prefix $prefix --remove"
