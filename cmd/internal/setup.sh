# setup.sh is read by open.sh and test.sh: it finds or installs what they need.
# POSIX sh; the caller stands in the module's root.

# The toolkit's texts follow the locale; "C" makes it complain.
case ${LANG:-C} in C | C.* | POSIX) LANG=en_US.UTF-8 ;; esac
export LANG

# Without these the window does not build (a C compiler, the X and GL headers) ...
build_packages='gcc libc6-dev pkgconf libgl-dev libx11-dev libxrandr-dev libxxf86vm-dev libxi-dev libxcursor-dev libxinerama-dev'
# ... does not open ...
window_packages='libgl1 libx11-6'
# ... and its tests do not run: a display, a window manager, hands, eyes, a PDF reader.
test_packages='xvfb xauth openbox wmctrl xdotool imagemagick poppler-utils'

say() { printf 'aftbay: %s\n' "$*" >&2; }

# have_apt says whether this system installs packages as Debian and Ubuntu do.
have_apt() { command -v apt-get >/dev/null 2>&1 && command -v dpkg-query >/dev/null 2>&1; }

# as_root runs a command with the rights to install.
as_root() {
	if [ "$(id -u)" -eq 0 ]; then
		"$@"
	elif command -v sudo >/dev/null 2>&1; then
		sudo "$@"
	else
		say "to install packages, run this as root or install sudo: $*"
		exit 2
	fi
}

# need_packages installs those of its arguments that are missing.
need_packages() {
	if ! have_apt; then
		say "this system is neither Debian nor Ubuntu, so nothing is installed for you."
		say "needed: Go $(go_wanted) or newer, a C compiler, pkg-config, and the headers of OpenGL, X11, Xrandr, Xxf86vm, Xi, Xcursor and Xinerama."
		say "Debian calls them: $*"
		say "with those in place: CGO_ENABLED=1 go build ./cmd/aftbay"
		exit 2
	fi
	missing=
	for p in "$@"; do
		case $(dpkg-query -W -f '${Status}' "$p" 2>/dev/null) in
		*' installed') ;;
		*) missing="$missing $p" ;;
		esac
	done
	[ -n "$missing" ] || return 0
	say "installing:$missing"
	as_root apt-get update -q
	as_root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends $missing
}

# go_wanted prints the version that go.mod asks for.
go_wanted() { sed -n 's/^go //p' go.mod; }

# at_least A B says whether version A is B or newer.
at_least() { [ "$(printf '%s\n%s\n' "$1" "$2" | sort -V | head -n 1)" = "$2" ]; }

# need_go finds Go or installs the distribution's. Go 1.21 and newer fetch the
# version that go.mod asks for by themselves, unless GOTOOLCHAIN=local.
need_go() {
	if ! command -v go >/dev/null 2>&1 && [ -x /usr/local/go/bin/go ]; then
		PATH=$PATH:/usr/local/go/bin
		export PATH
	fi
	if ! command -v go >/dev/null 2>&1 && have_apt; then
		offered=$(apt-cache policy golang-go | sed -n 's/^ *Candidate: *\([0-9]*:\)\{0,1\}\([0-9.]*\).*/\2/p')
		if at_least "${offered:-0}" 1.21; then need_packages golang-go ca-certificates; fi
	fi
	if ! command -v go >/dev/null 2>&1; then
		say "Go is missing, and this system offers none that is new enough (${offered:-none})."
		say "install Go $(go_wanted) or newer from https://go.dev/dl into /usr/local/go, then run this again."
		exit 2
	fi
	found=$(GOTOOLCHAIN=local go env GOVERSION 2>/dev/null || true)
	found=${found#go}
	if at_least "${found:-0}" "$(go_wanted)"; then return 0; fi
	if at_least "${found:-0}" 1.21 && [ "$(go env GOTOOLCHAIN)" != local ]; then return 0; fi
	say "Go ${found:-of unknown version} is too old: this needs $(go_wanted) or newer, from https://go.dev/dl."
	exit 2
}
