#!/usr/bin/env bash
# scripts/lint.sh BUILD: clang-tidy over every source of the program, several at once. Tests and benchmarks are left to
# the compiler's warnings: they cost as much again and found nothing.
#
# A source that was clean is not looked at again until it, a header of ours it includes, or the rules change: its
# key is a hash of all those, and keys of clean sources are kept as empty files.
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.." || exit 1
build=$1
cache=${DAPPLE_LINT_CACHE:-$PWD/build/lint}
mkdir -p "$cache"

# One line a source: the source and our headers it includes, as the compiler saw them.
inputs() {
    ninja -C "$build" -t deps | awk -v root="$PWD/" '
        function relative(path) { return index(path, root) == 1 ? substr(path, length(root) + 1) : "" }
        /^[^ ].*: #deps/ { if (line != "") print line; line = ""; first = 1; next }
        NF == 1 {
            path = $1
            sub(/^\.\.\/\.\.\//, root, path)
            path = relative(path)
            if (first) { line = path ~ /^src\// ? path : ""; first = 0; next }
            if (line != "" && path ~ /^src\//) line = line " " path
        }
        END { if (line != "") print line }' | sort -u | grep -v "^$unreadable "
}

# clang 14 cannot read qpdf's JSON.hh as C++20; g++ can.
unreadable=src/paper/pdf_finish.cpp

rules=$(cat .clang-tidy <(clang-tidy --version) | sha256sum)

stale() {
    while read -r source headers; do
        key=$(cat <(echo "$rules") $source $headers | sha256sum | cut -c1-40)
        [ -e "$cache/$key" ] || echo "$key $source"
    done
}

check_one() {
    local output
    output=$(clang-tidy --quiet --extra-arg=-Wno-unknown-warning-option -p "$build" "$2" 2>&1) && { : >"$cache/$1"; return 0; }
    printf '%s\n' "$output"
    return 1
}
export -f check_one
export build cache

todo=$(inputs | stale)
[ -n "$todo" ] || exit 0
echo "$(wc -l <<<"$todo") sources to look at"
xargs -P "$(nproc)" -L 1 bash -c 'check_one "$@"' check_one <<<"$todo"
