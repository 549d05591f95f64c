# Asks zsh's completion function, with what it calls replaced by functions that say what they were called with.
#   complete.zsh FILE <COMMANDS       a line a command ("log merge"): "log merge|its options"
#   complete.zsh FILE LINE            what is offered at the line's end
found=()
_describe() {
    local -a listed=("${(@P)argv[-1]}")
    local entry
    for entry in "${listed[@]}"; do
        entry=${entry%%:*}
        [[ $entry == $PREFIX* ]] && found+=("$entry")
    done
}
compadd() { shift; found+=("$@"); }
_message() { }
_files() { found+=(files); }
compdef() { }
body=$(<"$1")
offered_at() { # WORD...
    words=("$@")
    CURRENT=$#words
    PREFIX=$words[-1]
    found=()
    eval "${body%_valve-ladder \"\$@\"}"
    _valve-ladder
    print -- ${(o)found[@]}
}
if (( $# > 1 )); then
    line=("${(@s: :)2}")
    offered_at "${line[@]}"
    exit
fi
while IFS= read -r command; do print -- "$command|$(offered_at valve-ladder ${=command} -)"; done
