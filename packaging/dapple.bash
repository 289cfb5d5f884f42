# bash completion for dapple. It asks the program itself, so that it can not offer what is not there.

_dapple() {
    local word=${COMP_WORDS[COMP_CWORD]} program=${COMP_WORDS[0]} known=
    COMPREPLY=()
    if ((COMP_CWORD == 1)) && [[ $word != -* ]]; then
        known=$("$program" --help 2>/dev/null | sed -n '/^Subcommands:/,$ s/^  \([a-z][a-z-]*\).*/\1/p')
    elif [[ $word == -* ]]; then
        local command=${COMP_WORDS[1]}
        [[ $command == -* ]] && command=
        known=$("$program" ${command:+"$command"} --help 2>/dev/null | sed -n 's/^  \(-[a-zA-Z],\)\{0,1\}\(--[a-z0-9-]*\).*/\2/p')
    fi
    # Without an answer of ours, names of files are offered.
    [[ -z $known ]] || mapfile -t COMPREPLY < <(compgen -W "$known" -- "$word")
}

complete -o default -F _dapple dapple
