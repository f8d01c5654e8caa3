# Shared by examples/first-plan.sh and tests/run.sh: installs what is missing, and builds.
# It is sourced by a POSIX shell; `root`, the top folder of the tree, is set by the caller.
#
# A need is written KIND:NAME:PACKAGES: the kind is `command` or `header`, the packages
# (joined by commas) are those of Debian and Ubuntu that bring it.

needs_for_build='
command:cc:gcc
command:make:make
command:cmake:cmake
header:stdio.h:libc6-dev
header:cjson/cJSON.h:libcjson-dev
'

needs_for_tests='
header:cmocka.h:libcmocka-dev
header:gsl/gsl_version.h:libgsl-dev
'

# dpkg-dev unpacks a Debian source and puts in its patches.
needs_for_one_piece='
command:dpkg-source:dpkg-dev
'

needs_for_browser='
command:chromium:chromium,fonts-dejavu-core
'

needs_for_all_stages="
$needs_for_browser
$needs_for_one_piece
command:xmllint:libxml2-utils
command:rsvg-convert:librsvg2-bin
command:g++:g++
command:clang:clang
command:clang-tidy:clang-tidy
command:clang-format:clang-format
command:cppcheck:cppcheck
command:valgrind:valgrind,libc6-dbg
command:pkg-config:pkg-config
command:nm:binutils
command:readelf:binutils
command:bash:bash
command:zsh:zsh
command:fish:fish
command:script:bsdutils
command:mandoc:mandoc
command:groff:groff-base
command:man:man-db
"

# Whether a need (KIND NAME) is met.
is_here() {
    case $1 in
    command) command -v "$2" >/dev/null 2>&1 ;;
    header) echo "#include <$2>" | cc -E - >/dev/null 2>&1 ;;
    esac
}

# Prints the names (with $2 = packages: the packages) of those needs in $1 that are not met.
missing() {
    for need in $1; do
        kind=${need%%:*}
        rest=${need#*:}
        if ! is_here "$kind" "${rest%%:*}"; then
            if [ "${2-}" = packages ]; then
                echo "${rest#*:}" | tr , ' '
            else
                echo "${rest%%:*}"
            fi
        fi
    done
}

as_root() {
    if [ "$(id -u)" -eq 0 ]; then
        "$@"
    else
        sudo "$@"
    fi
}

apt_install() {
    as_root env DEBIAN_FRONTEND=noninteractive \
        apt-get install -q -y --no-install-recommends "$@" >/dev/null
}

# Installs what is missing of the needs in $1. Returns 1, after saying what is to be
# installed by hand, if something is still missing.
install_missing() {
    packages=$(missing "$1" packages | tr '\n' ' ')
    if [ -z "$packages" ]; then
        return 0
    fi
    if command -v apt-get >/dev/null 2>&1; then
        if [ "$(id -u)" -eq 0 ] || command -v sudo >/dev/null 2>&1; then
            echo "Installing: $packages"
            as_root apt-get update -q >/dev/null
            # One by one if they can't be had all at once: some are better than none.
            # shellcheck disable=SC2086 # the list is meant to be split
            apt_install $packages || for package in $packages; do
                apt_install "$package"
            done
        else
            echo "As root, run: apt-get install $packages"
        fi
    fi
    still=$(missing "$1" | tr '\n' ' ')
    if [ -n "$still" ]; then
        echo "These are missing, please install them: $still"
        echo "(Debian and Ubuntu have them in: $packages)"
        return 1
    fi
}

jobs() {
    getconf _NPROCESSORS_ONLN 2>/dev/null || echo 1
}

# build FOLDER [OPTION...]: configures the tree into FOLDER with CMake's OPTIONs, and builds.
build() {
    into=$1
    shift
    if [ -d "$into" ] && ! [ -w "$into" ]; then
        echo "$into belongs to another user. Remove it, or run this as that user." >&2
        return 1
    fi
    # A tree that was moved or copied since: CMake would not take the old folder.
    if [ -f "$into/CMakeCache.txt" ] &&
        ! grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$root" "$into/CMakeCache.txt"; then
        rm -rf "$into/CMakeCache.txt" "$into/CMakeFiles"
    fi
    cmake -S "$root" -B "$into" "$@" && cmake --build "$into" -j "$(jobs)"
}

# cjson_source FOLDER: brings cJSON's source, with Debian's patches, into FOLDER, and prints where it
# lies. What apt knows of sources is kept in FOLDER: the system's own lists stay as they are.
cjson_source() {
    folder=$1
    if ! ls "$folder"/cjson-*/cJSON.c >/dev/null 2>&1; then
        mkdir -p "$folder/lists/partial" "$folder/parts" || return 1
        for file in /etc/apt/sources.list /etc/apt/sources.list.d/*; do
            [ -f "$file" ] && grep -qi debian "$file" || continue
            sed -e 's/^Types:.*/Types: deb-src/' -e 's/^deb /deb-src /' "$file" \
                >"$folder/parts/$(basename "$file")"
        done
        (
            cd "$folder" || exit 1
            set -- -q -o Dir::Etc::SourceList=/dev/null "-o" "Dir::Etc::SourceParts=$folder/parts" \
                -o "Dir::State::Lists=$folder/lists" -o APT::Sandbox::User=root
            apt-get "$@" update && apt-get "$@" source cjson
        ) >&2 || return 1
        rm -rf "$folder/lists"
    fi
    (cd "$folder"/cjson-*/ && pwd -P)
}
