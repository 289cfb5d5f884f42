#!/usr/bin/env bash
# scripts/try-package.sh [FILE.deb]    makes the Debian package, or takes that one, installs it in a fresh Debian 12, and has it
# do its main jobs there
#
# Needs root, for debootstrap and chroot. Every step says `ok` or `FAILED`; the last line counts them, and the exit status is 0
# only if nothing failed. The fresh Debian is made under $TMPDIR (else /tmp) and is gone afterwards; DAPPLE_BASE_TREE names one
# that debootstrap made before, to be copied in its place.
set -uo pipefail
root=$(cd "$(dirname "$(readlink -f "${BASH_SOURCE[0]}")")/.." && pwd)
cd "$root" || exit 1
. scripts/prepare.sh

build=$root/build/release
port=${DAPPLE_TRY_PORT:-8461}
passed=0
failed=0

# try TITLE COMMAND...
try() {
    local title=$1 said
    shift
    if said=$("$@" 2>&1); then
        passed=$((passed + 1))
        echo "ok      $title"
    else
        failed=$((failed + 1))
        echo "FAILED  $title"
        printf '%s\n' "$said" | tail -20 | sed 's/^/        /'
    fi
}

make_package() {
    [ -f "$build/build.ninja" ] || configure release -DDAPPLE_TESTS=OFF || return 1
    ninja_quietly "$build" dapple installable && rm -f "$build"/dapple_*.deb && (cd "$build" && cpack)
}

# The machine's own mirror, and its security updates, without which libraries would be older than those linked.
mirror() { apt-get indextargets --format '$(REPO_URI)' 'Codename: bookworm' | sort -u | head -1; }

make_tree() {
    if [ -n "${DAPPLE_BASE_TREE-}" ]; then
        cp -a "$DAPPLE_BASE_TREE/." "$tree" || return 1
    else
        debootstrap --variant=minbase bookworm "$tree" "$(mirror)" || return 1
    fi
    apt-get indextargets --format 'deb $(REPO_URI) $(RELEASE) main' | grep -E ' bookworm(-security|-updates)? main$' |
        sort -u >"$tree/etc/apt/sources.list"
    cp /etc/resolv.conf /etc/hosts "$tree/etc/"
    cp /etc/apt/apt.conf.d/*proxy* "$tree/etc/apt/apt.conf.d/" 2>/dev/null
    chmod 1777 "$tree/tmp"
    mount -t proc proc "$tree/proc"
}

inside() { "${enter[@]}" "$@"; }

install_package() {
    cp "$deb" "$tree/tmp/" && inside apt-get -qq update &&
        inside apt-get -qq install -y --no-install-recommends "/tmp/$(basename "$deb")"
}

# Everything the package depends on stands in the list of dependencies, by itself or as what provides it.
depends_are_listed() {
    local group name listed status=0
    listed=$(grep -o '^  {"SPDXID":"SPDXRef-deb-[^"]*","name":"[^"]*"' packaging/dependencies.spdx.json | sed 's/.*"name":"//; s/"$//')
    listed="$listed $(dpkg-query -W -f '${Provides} ' $listed 2>/dev/null)"
    while read -r group; do
        for name in $(sed 's/([^)]*)//g; s/|/ /g' <<<"$group"); do
            grep -qw -- "$name" <<<"$listed" && continue 2
        done
        echo "not listed: $group"
        status=1
    done < <(dpkg-deb --field "$deb" Depends | tr ',' '\n')
    return $status
}

says_version() { inside dapple --version | grep -q "^dapple $(dpkg-deb --field "$deb" Version | cut -d- -f1)$"; }

checks_an_example() {
    local there here
    there=$(inside dapple check /usr/share/doc/dapple/examples/heath-edge.json --json) || return 1
    dpkg-deb --extract "$deb" "$tree/tmp/out" && here=$("$tree/tmp/out/usr/bin/dapple" check examples/heath-edge.json --json) || return 1
    [ "$there" = "$here" ] || { echo "the answer differs from that on this machine"; return 1; }
}

finds_a_fix() { inside dapple fix /usr/share/doc/dapple/examples/moss-bank.json --json | grep -q '"fixes"'; }

draws_a_picture() {
    inside dapple field /usr/share/doc/dapple/examples/heath-edge.json --step-cm 10 --out /tmp/field.png && head -c 8 "$tree/tmp/field.png" | grep -q PNG
}

# Answers pages and the interface, and ends in order when told to.
serves_the_demo() {
    local pid status page
    "${enter[@]}" dapple demo --listen "127.0.0.1:$port" >"$tree/tmp/demo.log" 2>&1 &
    pid=$!
    for _ in $(seq 120); do
        grep -q 'Dapple is at' "$tree/tmp/demo.log" && break
        sleep 0.5
    done
    page=$(curl -fsS "http://127.0.0.1:$port/") && curl -fsS "http://127.0.0.1:$port/api/collection" >"$tree/tmp/collection.json"
    status=$?
    # $pid is the program itself: chroot and env have become it.
    kill "$pid"
    wait "$pid" || { echo "it did not end in order"; status=1; }
    [ $status = 0 ] || cat "$tree/tmp/demo.log"
    [ "$(grep -o '"enclosure' "$tree/tmp/collection.json" | wc -l)" -gt 1 ] || { echo "no enclosures"; status=1; }
    case $page in *"<div id=\"root\""*) ;; *) echo "no page"; status=1 ;; esac
    return $status
}

keeps_a_record() {
    inside sh -c 'printf "a long enough password\n" | dapple account --data /tmp/record --login head --site Centre &&
        dapple backup --data /tmp/record /tmp/backup.sqlite && dapple restore --data /tmp/restored /tmp/backup.sqlite'
}

completes() {
    inside bash -c '. /usr/share/bash-completion/completions/dapple; COMP_WORDS=(dapple ch); COMP_CWORD=1; _dapple; [ "${COMPREPLY[0]}" = check ]'
}

unit_is_sound() {
    systemd-analyze verify --man=no --root="$tree" "$tree/usr/lib/systemd/system/dapple.service" 2>&1 | grep -i dapple && return 1
    return 0
}

leaves_nothing() {
    local left
    left=$(inside dpkg -L dapple | grep dapple)
    inside apt-get -qq purge -y dapple || return 1
    for path in $left; do [ ! -e "$tree$path" ] || { echo "left: $path"; return 1; }; done
}

[ "$(id -u)" = 0 ] || fail "scripts/try-package.sh needs root, for debootstrap and chroot."
install_missing packages/debian.txt packages/debian-package.txt
tree=$(mktemp -d)
enter=(chroot "$tree" env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/root LANG=C.UTF-8 DEBIAN_FRONTEND=noninteractive)
trap 'umount "$tree/proc" 2>/dev/null; rm -rf --one-file-system "$tree"' EXIT

if [ $# -gt 0 ]; then
    deb=$(readlink -e "$1") || fail "scripts/try-package.sh [FILE.deb]: found no file $1"
else
    try "The package is made" make_package
    deb=$(ls "$build"/dapple_*.deb 2>/dev/null) || fail "There is no package to try."
fi
try "lintian finds no error in it" lintian --fail-on error "$deb"
try "Its dependencies stand in dependencies.spdx.json" depends_are_listed
try "The menu entry is sound" desktop-file-validate packaging/dapple.desktop
try "A fresh Debian 12 is there" make_tree
try "The package installs with its dependencies" install_package
try "It says its version" says_version
try "It checks an example as it does on this machine" checks_an_example
try "It finds fixes" finds_a_fix
try "It draws a picture" draws_a_picture
try "It keeps, backs up and restores a record" keeps_a_record
try "It serves the demo" serves_the_demo
try "bash completes its commands" completes
try "The manual is sound" sh -c "zcat '$tree/usr/share/man/man1/dapple.1.gz' | mandoc -T lint -W error"
try "The description for software centres is sound" appstreamcli validate --no-net "$tree/usr/share/metainfo/invalid.dapple.dapple.metainfo.xml"
try "The service is sound" unit_is_sound
try "Purged, it leaves nothing behind" leaves_nothing

echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
