# Asks bash's completion, as pressing Tab does.
#   complete.bash FILE <COMMANDS       a line a command ("log merge"): "log merge|its options"
#   complete.bash FILE LINE            what is offered at the line's end
source "$1"
offered_at() { # WORD...: COMPREPLY of the last of them
    COMP_WORDS=("$@")
    COMP_CWORD=$((${#COMP_WORDS[@]} - 1))
    COMPREPLY=()
    "$(complete -p valve-ladder | sed 's/.*-F \([^ ]*\) .*/\1/')" valve-ladder
    printf '%s\n' "${COMPREPLY[@]}" | grep . | sort | tr '\n' ' ' | sed 's/ $//'
}
if [ $# -gt 1 ]; then
    IFS=' ' read -ra words <<<"$2"
    [[ $2 == *' ' ]] && words+=('')
    offered_at "${words[@]}"
    exit
fi
while read -r command; do echo "$command|$(offered_at valve-ladder $command -)"; done
