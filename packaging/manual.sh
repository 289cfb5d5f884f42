#!/bin/sh
# manual.sh PROGRAM FRAME: the manual page, in man(7). FRAME is the page with a line @COMMANDS@ in it;
# that is filled from what the program says of itself with --help.
set -eu
program=$1
frame=$2

version=$("$program" --version | sed -n 's/^dapple //p')
date=$("$program" --version | sed -n 's/^source .*of //p')
commands=$("$program" --help | sed -n '/^Subcommands:/,$ s/^  \([a-z][a-z-]*\).*/\1/p')
[ -n "$commands" ] || { echo "manual.sh: $program --help names no command" >&2; exit 1; }

# Help as CLI11 prints it: the description, Usage:, then sections of entries, names indented by two spaces and what
# they mean after two more or on the next line, indented deeper.
entries() {
    awk '
        function escaped(text) { gsub(/\\/, "\\e", text); gsub(/-/, "\\-", text); sub(/^[.\047]/, "\\\\\\&&", text); return text }
        /^[^ ]/ { next }
        /^  [^ ]/ {
            line = substr($0, 3); split_at = match(line, /   *[^ ]/)
            name = split_at ? substr(line, 1, split_at - 1) : line
            print ".TP"; print ".B " escaped(name)
            if (split_at) { rest = substr(line, split_at); sub(/^ +/, "", rest); print escaped(rest) }
            next
        }
        /^ +[^ ]/ { sub(/^ +/, ""); print escaped($0) }'
}

command_page() {
    "$program" "$1" --help >"$help"
    printf '.SS dapple %s\n' "$1"
    sed -n '1s/-/\\-/gp' "$help"
    sed -n '/^Usage:/,$p' "$help" | sed '/--help /d' | entries
}

help=$(mktemp)
trap 'rm -f "$help"' EXIT
printf '.TH DAPPLE 1 "%s" "Dapple %s" "User commands"\n' "$date" "$version"
while IFS= read -r line; do
    case $line in
        @COMMANDS@) for command in $commands; do command_page "$command"; done ;;
        *) printf '%s\n' "$line" ;;
    esac
done <"$frame"
