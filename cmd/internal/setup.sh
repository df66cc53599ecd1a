# setup.sh is read by open.sh and test.sh: it finds or installs what they need.
# POSIX sh; the caller stands in the module's root.

# The toolkit's texts follow the locale; "C" makes it complain.
case ${LANG:-C} in C | C.* | POSIX) LANG=en_US.UTF-8 ;; esac
export LANG

# Whether a display answers is asked with xset.
display_packages=x11-xserver-utils
# Without these the window does not build (a C compiler, the X and GL headers) ...
build_packages='gcc libc6-dev pkgconf libgl-dev libx11-dev libxrandr-dev libxxf86vm-dev libxi-dev libxcursor-dev libxinerama-dev'
# ... does not open ...
window_packages='libgl1 libx11-6'
# ... and its tests do not run: a display, a window manager, hands, eyes, a PDF reader,
# and what reads menu entries and file types.
test_packages='xvfb xauth openbox wmctrl xdotool imagemagick poppler-utils desktop-file-utils shared-mime-info'

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
	# One broken source among many is no reason to stop; the install will tell.
	as_root apt-get update -q || say "apt-get update failed; trying with the lists that are here."
	as_root env LC_ALL=C DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends $missing && return 0
	say "could not install:$missing. Mend what apt-get says above, then run this again."
	exit 2
}

# have_browser says whether the browser that the packet's page is tried in is here.
have_browser() { command -v chromium >/dev/null 2>&1 || command -v chromium-browser >/dev/null 2>&1; }

# need_browser installs it where it is a package (Debian; about half a minute).
# Where it is none, that one test is left out, and says so.
need_browser() {
	have_browser && return
	if have_apt; then
		as_root apt-get update -q || true
		as_root env LC_ALL=C DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends chromium || true
	fi
	have_browser || say "NO BROWSER: chromium can't be installed here, so the packet's page is not tried in one."
}

# go_wanted prints the version that go.mod asks for.
go_wanted() { sed -n 's/^go //p' go.mod; }

# go_found prints the version of the Go on the PATH. It asks from outside the
# module: an old Go cannot read go.mod, a newer one would fetch another Go.
go_found() { (cd / && GOTOOLCHAIN=local go version) | sed -n 's/^go version go\([0-9.]*\).*/\1/p'; }

# at_least A B says whether version A is B or newer.
at_least() { [ "$(printf '%s\n%s\n' "$1" "$2" | sort -V | head -n 1)" = "$2" ]; }

# need_go puts a Go that is new enough on the PATH. Where there is none it
# installs the distribution's. Where that one is too old it only serves to fetch
# the wanted one.
need_go() {
	if ! command -v go >/dev/null 2>&1 && [ -x /usr/local/go/bin/go ]; then
		PATH=$PATH:/usr/local/go/bin
		export PATH
	fi
	if ! command -v go >/dev/null 2>&1; then
		if ! have_apt; then
			say "Go is missing: install Go $(go_wanted) or newer from https://go.dev/dl into /usr/local/go, then run this again."
			exit 2
		fi
		need_packages golang-go ca-certificates
	fi
	at_least "$(go_found)" "$(go_wanted)" || fetch_go
	# No commit stamps: git refuses to speak of a folder that another user owns.
	GOFLAGS="$(cd / && go env GOFLAGS) -buildvcs=false"
	export GOFLAGS
}

# fetch_go downloads the Go that go.mod asks for with the Go that is here. Each
# release is also a module, golang.org/toolchain: it comes through GOPROXY, its
# checksum is verified, and it stays in the module cache, where newer Go keeps it too.
fetch_go() {
	say "the Go here is $(go_found), which is too old; using Go $(go_wanted) from the module cache (fetched once, about 70 MB) ..."
	release=v0.0.1-go$(go_wanted).$(cd / && go env GOHOSTOS)-$(cd / && go env GOHOSTARCH)
	answer=$(cd / && GOTOOLCHAIN=local GOFLAGS= go mod download -json "golang.org/toolchain@$release") || true
	root=$(printf '%s\n' "$answer" | sed -n 's/.*"Dir": "\(.*\)".*/\1/p')
	if [ -z "$root" ]; then
		say "$answer"
		say "could not fetch Go $(go_wanted). Install it or newer from https://go.dev/dl into /usr/local/go and put /usr/local/go/bin first on the PATH, then run this again."
		exit 2
	fi
	# Modules carry no execute bits.
	[ -x "$root/bin/go" ] || chmod a+x "$root"/pkg/tool/*/* "$root"/bin/*
	PATH=$root/bin:$PATH
	export PATH
}
