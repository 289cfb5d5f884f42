# Sourced by ./run and ./test: installs what is missing, configures, builds. All it has to say goes to standard error.
# Needs $root, the repository.

say() { printf '%s\n' "$*" >&2; }

fail() {
    say "$*"
    exit 1
}

# Names of the packages in the given lists that are not installed.
missing_packages() {
    local wanted installed
    wanted=$(sed -e 's/#.*//' -e '/^[[:space:]]*$/d' "$@" | sort -u)
    installed=$(dpkg-query -W -f '${db:Status-Abbrev}${Package}\n' $wanted 2>/dev/null | sed -n 's/^ii \{0,1\}//p' | sort -u)
    comm -23 <(printf '%s\n' "$wanted") <(printf '%s\n' "$installed")
}

# Node 18 or later with npm, whoever installed it.
node_is_there() {
    command -v npm >/dev/null && node -e 'process.exit(parseInt(process.versions.node) >= 18 ? 0 : 1)' 2>/dev/null
}

as_root() {
    if [ "$(id -u)" = 0 ]; then
        "$@"
    elif command -v sudo >/dev/null; then
        sudo "$@"
    else
        fail "Packages are missing and there is no sudo; as root: $*"
    fi
}

# install_missing LIST...
install_missing() {
    command -v dpkg-query >/dev/null || fail "Dapple builds on Debian 12. The libraries it needs are listed in packages/."
    local missing
    missing=$(missing_packages "$@")
    node_is_there || missing="$missing nodejs npm"
    missing=$(echo $missing)
    [ -n "$missing" ] || return 0
    say "Installing: $missing"
    {
        as_root apt-get -qq update
        as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq install -y --no-install-recommends $missing
    } </dev/null >&2 || fail "Installing packages failed."
}

# One build at a time in this clone; the lock is gone with the process that holds it.
lock_build() {
    mkdir -p "$root/build"
    exec 9>"$root/build/lock"
    flock 9
}

unlock_build() { exec 9>&-; }

# ninja_quietly FOLDER TARGET...: a moving line on a terminal, else only what goes wrong.
ninja_quietly() {
    local folder=$1
    shift
    if [ -t 2 ]; then
        ninja -C "$folder" "$@" >&2
    else
        ninja --quiet -C "$folder" "$@" >&2
    fi
}

# configure PRESET OPTION...: cmake, silent unless it fails.
configure() {
    local preset=$1 log
    shift
    log=$(cd "$root" && cmake --preset "$preset" "$@" 2>&1) && return 0
    say "$log"
    return 1
}
