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
            # The description begins in column 31; a name that fills the columns before has a single blank after it.
            full = length($0) > 30 && substr($0, 29, 2) ~ /[^ ] /
            at = match(substr($0, 3), /  +[^ ]/)
            name = at ? substr($0, 3, at - 1) : full ? substr($0, 3, 27) : substr($0, 3)
            rest = at ? substr($0, at + 2) : full ? substr($0, 31) : ""
            sub(/^ +/, "", rest)
            print ".TP"; print ".B " escaped(name)
            if (rest != "") print escaped(rest)
            next
        }
        /^ +[^ ]/ { sub(/^ +/, ""); print escaped($0) }'
}

command_page() {
    "$program" "$1" --help >"$help"
    printf '.SS dapple %s\n' "$1"
    sed '1{s/-/\\-/g;q}' "$help"
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
