#!/usr/bin/env bash
# Installs a build into a folder and looks at what lies there: every file in its place, each sound by the tool that its
# format has, manual page and completions with every command and option that --help names.
#   tree.sh SOURCE BUILD ON|OFF      ON: with the plugin
set -euo pipefail
export LC_ALL=C

source=$1
build=$2
plugin=$3
here=$source/Tests/Install
for needed in man lexgrog zsh fish desktop-file-validate appstreamcli xmllint file; do
    command -v $needed >/dev/null || { echo "skipped: $needed is not installed"; exit 77; }
done
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
prefix=$work/usr
fault=0
complain() { echo "$*" >&2; fault=1; }
same() { # WHAT, EXPECTED, FOUND: files
    diff -u --label expected --label found "$2" "$3" || complain "$1 differ"
}

cmake --install "$build" --prefix "$prefix" >"$work/install.log"

# Every file has its line, and every line its file. %...% stands for the names of a folder of the sources.
expected() {
    sed -n "s/^all //p" "$here/tree.txt"
    [ "$plugin" = ON ] && sed -n "s/^plugin //p" "$here/tree.txt"
    for page in "$source"/Resources/handbook/*.md; do
        echo "share/doc/valve-ladder/handbook/$(basename "$page" .md).html"
    done
    (cd "$source/Resources" && find pictures -name '*.png' -o -name '*.svg') | sed 's|^|share/doc/valve-ladder/handbook/|'
    [ -d "$source/Resources/examples" ] && (cd "$source/Resources" && find examples -type f) | sed 's|^|share/valve-ladder/|'
    true
}
expected | sort >"$work/expected"
(cd "$prefix" && find . -type f | sed 's|^\./||' | grep -v '^share/doc/valve-ladder/licences/lib\|/moduleinfo.json$') | sort >"$work/found"
same "the files installed" "$work/expected" "$work/found"

# Each of its kind.
export PATH=$prefix/bin:$PATH
manual=$prefix/share/man/man1/valve-ladder.1.gz
warnings=$(LC_ALL=C.UTF-8 MANWIDTH=1000 man --warnings -E UTF-8 -l "$manual" 2>&1 >"$work/manual")
[ -z "$warnings" ] || complain "the manual page: $warnings"
lexgrog "$manual" >/dev/null || complain "the manual page has no name that whatis finds"
bash -n "$prefix/share/bash-completion/completions/valve-ladder" || complain "bash does not read its completions"
if [ "$plugin" = ON ]; then
    lexgrog "$prefix/share/man/man1/valve-ladder-standalone.1.gz" >/dev/null || complain "no name in the program's page"
    desktop-file-validate "$prefix"/share/applications/*.desktop || complain "the desktop entry is not valid"
    appstreamcli validate --no-net "$prefix"/share/metainfo/*.xml || complain "the metainfo is not valid"
    for size in 16 32 48 64 128 256 512; do
        file "$prefix/share/icons/hicolor/${size}x$size/apps/valve-ladder.png" | grep -q "PNG image data, $size x $size" \
            || complain "the icon of $size is none"
    done
    xmllint --noout "$prefix/share/icons/hicolor/scalable/apps/valve-ladder.svg" || complain "the icon is no XML"
fi
version=$("$prefix/bin/valve-ladder" --version | sed 's/valve-ladder //')
grep -q "^## $version, " "$prefix/share/doc/valve-ladder/CHANGELOG.md" || complain "CHANGELOG.md does not tell of $version"
grep -q "version=\"$version\"" "$prefix"/share/metainfo/*.xml 2>/dev/null || [ "$plugin" = OFF ] || complain "no $version in the metainfo"

# Links and pictures of the handbook lead somewhere.
for page in "$prefix"/share/doc/valve-ladder/handbook/*.html; do
    xmllint --html --noout "$page" 2>/dev/null || complain "$page is no HTML"
    for link in $(grep -oE '(href|src)="[^"#]+' "$page" | sed 's/.*="//'); do
        case $link in http*) continue ;; esac
        [ -e "$(dirname "$page")/$link" ] || complain "$(basename "$page") leads to $link, which is not there"
    done
done

# What --help says, command by command: "log merge|--help --json --log -h other..." of the words it offers.
options_of() { # help text: the names of its options
    grep -oE '^  -[^ ]+|^  -[^ ]+ --[^ ]+' | tr ',' '\n' | tr -d ' ' | sort
}
commands_of() { sed -n '/^Commands:$/,/^$/p' | sed -n 's/^  \([a-z][a-z-]*\)\( .*\|$\)/\1/p'; }
walk() { # COMMAND...
    local help name
    help=$(valve-ladder "$@" --help)
    { options_of <<<"$help"; echo --json; } | sort -u | tr '\n' ' ' | sed "s/^/$*|/;s/ $/\n/"
    for name in $(commands_of <<<"$help"); do walk "$@" "$name"; done
}
walk >"$work/help"
[ "$(wc -l <"$work/help")" -gt 25 ] || complain "only $(wc -l <"$work/help") commands in --help"

# The manual page: a section for each command, and in it each option.
sed -n '/^OPTIONS/,/^COMMANDS/p' "$work/manual" >"$work/section."
awk -v work="$work" '/^COMMANDS/ {on=1} /^NOTES/ {on=0}
    on && /^   [a-z]/ {name=$0; sub(/^ +/, "", name); gsub(/ /, "_", name)} on && name {print > (work "/section." name)}' "$work/manual"
while IFS='|' read -r command options; do
    section=$work/section.${command// /_}
    [ -s "$section" ] || { complain "the manual page has no section '$command'"; continue; }
    for option in $options; do
        case $option in -h | --help | --json) [ -n "$command" ] && continue ;; esac
        grep -qE -- "(^| )$option([ ,]|$)" "$section" || complain "the manual page has no $option at '$command'"
    done
done <"$work/help"

# The shells: the same options at each command, and the same commands.
sed 's/|.*//' "$work/help" >"$work/commands"
completions=$prefix/share/bash-completion/completions/valve-ladder
for shell in bash zsh fish; do
    case $shell in
    bash) bash "$here/complete.bash" "$completions" ;;
    zsh) zsh -f "$here/complete.zsh" "$prefix/share/zsh/site-functions/_valve-ladder" ;;
    fish) HOME=$work fish --no-config "$here/complete.fish" "$prefix/share/fish/vendor_completions.d/valve-ladder.fish" ;;
    esac <"$work/commands" >"$work/offered.$shell"
    same "the options that $shell offers" "$work/help" "$work/offered.$shell"
done

# And the words that an option takes, files where one is asked for, nothing for a number.
asked() { # SHELL, LINE: what is offered
    case $1 in
    bash) bash "$here/complete.bash" "$completions" "$2" ;;
    zsh) zsh -f "$here/complete.zsh" "$prefix/share/zsh/site-functions/_valve-ladder" "$2" ;;
    fish) HOME=$work fish --no-config "$here/complete.fish" "$prefix/share/fish/vendor_completions.d/valve-ladder.fish" "$2" ;;
    esac
}
mkdir "$work/files" && cd "$work/files" && touch take.wav
for shell in bash zsh fish; do
    offered=$(asked $shell 'valve-ladder drill make --shape ')
    [ "$offered" = "down-up up up-down" ] || complain "$shell offers '$offered' for --shape"
    offered=$(asked $shell 'valve-ladder guide --bpm ')
    [ -z "$offered" ] || complain "$shell offers '$offered' for a tempo"
    offered=$(asked $shell 'valve-ladder assess --picture ')
    [[ $offered == *take.wav* || $offered == files ]] || complain "$shell offers '$offered' for a file"
    offered=$(asked $shell 'valve-ladder assess ta')
    [[ $offered == *take.wav* || $offered == files ]] || complain "$shell offers '$offered' for a take"
    offered=$(asked $shell 'valve-ladder lo')
    [[ $offered == *log* ]] || complain "$shell offers '$offered' for lo"
done
[ $fault -eq 0 ] && echo "$(wc -l <"$work/found") files, $(wc -l <"$work/help") commands with $(sed 's/.*|//' "$work/help" | wc -w) options, in three shells"
exit $fault
