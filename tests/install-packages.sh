#!/bin/sh
# Brings what a job needs beyond a C compiler, make and git.
#
#   install-packages.sh GROUP...      build, test, bench, lint, ci (each but bench and lint contains build)
#
# Looks for each tool first; what is there is left alone, whoever put it there. The rest is installed with apt-get where
# that is allowed: as root, or with a sudo that asks nothing. Where it is not, or with NO_INSTALL=1, says exactly what to
# install and exits 2. Names no version: what Debian 12 and its successors carry serves.

set -u

compiler=${CC:-cc}
python=${PYTHON:-/usr/bin/python3}
missing=""

# need PACKAGE COMMAND...: the package is missing unless the command succeeds.
need() {
    package=$1
    shift
    "$@" >/dev/null 2>&1 || missing="$missing $package"
}

have_tool() {
    command -v "$1"
}

# have_header HEADER...: whether the compiler finds them, in this order.
have_header() {
    for header in "$@"; do
        printf '#include <%s>\n' "$header"
    done | $compiler -fsyntax-only -x c -
}

look_for() {
    case $1 in
    build)
        need re2c have_tool "${RE2C:-re2c}"
        ;;
    test)
        look_for build
        need libcmocka-dev have_header stdarg.h stddef.h stdint.h setjmp.h cmocka.h
        need units have_tool units
        need jq have_tool jq
        need libxml2-utils have_tool xmllint
        need librsvg2-bin have_tool rsvg-convert
        need mandoc have_tool mandoc
        need cmark-gfm have_tool cmark-gfm
        need ngspice have_tool ngspice
        need python3 have_tool "$python"
        need python3-jsonschema "$python" -c 'import jsonschema'
        ;;
    bench)
        need libyaml-dev have_header yaml.h
        need valgrind have_tool valgrind
        ;;
    lint)
        need clang-format have_tool clang-format
        need cppcheck have_tool cppcheck
        need mandoc have_tool mandoc
        ;;
    ci)
        need gcc have_tool gcc
        need libc6-dev have_header stdio.h
        need make have_tool make
        need clang have_tool clang
        look_for test
        ;;
    *)
        echo "install-packages: no group \`$1\`: build, test, bench, lint or ci" >&2
        exit 2
        ;;
    esac
}

look_for_all() {
    missing=""
    for group in "$@"; do
        look_for "$group"
    done
    missing=$(printf '%s\n' $missing | sort -u | tr '\n' ' ')
    missing=${missing% }
}

give_up() {
    {
        echo "These packages are missing: $missing"
        echo "$1"
        echo "    apt-get install --no-install-recommends $missing"
        echo "or, where packages have other names, what provides the same programs and headers."
    } >&2
    exit 2
}

look_for_all "$@"
[ -n "$missing" ] || exit 0

[ -z "${NO_INSTALL:-}" ] || give_up "NO_INSTALL is set, so nothing was installed. Install them yourself:"
command -v apt-get >/dev/null || give_up "There is no apt-get here. On Debian it would be, as root:"
if [ "$(id -u)" -eq 0 ]; then
    become=""
elif command -v sudo >/dev/null && sudo -n true 2>/dev/null; then
    become="sudo -n"
else
    give_up "You are not root, and sudo would ask for a password. Have somebody run, as root:"
fi

echo "Installing $missing" >&2
apt() {
    $become env DEBIAN_FRONTEND=noninteractive apt-get -q -o DPkg::Lock::Timeout=120 "$@" >&2
}
# An index that cannot be refreshed may still be good enough, and without --no-install-recommends this takes minutes.
apt update || echo "The package index could not be refreshed; trying with the one that is there." >&2
apt install -y --no-install-recommends $missing || give_up "Installing them failed (see above). As root:"

look_for_all "$@"
[ -z "$missing" ] || give_up "They were installed and still do not serve \`$compiler\` or \`$python\`:"
