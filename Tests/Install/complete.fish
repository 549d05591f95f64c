# Asks fish's completion, as pressing Tab does.
#   complete.fish FILE <COMMANDS       a line a command ("log merge"): "log merge|its options"
#   complete.fish FILE LINE            what is offered at the line's end
source $argv[1]
if test (count $argv) -gt 1
    complete -C $argv[2] | string replace -r '\t.*' '' | sort | string join ' '
    exit 0 # string joins nothing with 1
end
while read -l command
    set -l line (string trim -- "valve-ladder $command")
    # A single hyphen lists the short ones, two the long ones.
    set -l offered (complete -C "$line -"; complete -C "$line --")
    echo "$command|"(string replace -r '\t.*' '' -- $offered | sort -u | string join ' ')
end
