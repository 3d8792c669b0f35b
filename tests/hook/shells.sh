#!/usr/bin/env bash
# Completions as the shells take them, and manual pages as troff does: shells.sh FOLDER-OF-THE-PROGRAM
# Wants zsh, fish and groff beside bash.
set -euo pipefail
PATH=$(cd "$1" && pwd):$PATH
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"

failed() {
    printf 'FAILED: %s\n' "$1"
    exit 1
}

# wants WHAT OUTPUT WORD…: each word is a line of the output, or begins one.
wants() {
    local what=$1 output=$2
    shift 2
    for word in "$@"; do
        grep -qE "^$word([[:space:]]|\$)" <<<"$output" || failed "$what: no $word in: $output"
    done
    printf '  completes: %s\n' "$what"
}

# Bash: what its own machinery would call when the last word is to be completed.
in_bash() {
    bash --noprofile --norc -c '
        source <(nailplate completions bash)
        COMP_WORDS=("$@") COMP_CWORD=$(($# - 1)) COMPREPLY=()
        compopt() { :; }
        _nailplate nailplate "${@: -1}" "${@: -2:1}"
        printf "%s\n" "${COMPREPLY[@]}"' bash "$@"
}
wants "bash, commands" "$(in_bash nailplate re)" review redline
wants "bash, options" "$(in_bash nailplate review --)" --as --hold --revised-since --next-commit
wants "bash, words of an option" "$(in_bash nailplate review --as js)" json json-lines
wants "bash, rules" "$(in_bash nailplate rulebook speaker.u)" speaker.undersized

# Fish can be asked what it would offer.
nailplate completions fish >nailplate.fish
in_fish() { HOME=$work fish --no-config -c "source nailplate.fish; complete -C '$1'"; }
wants "fish, commands" "$(in_fish 'nailplate re')" review redline
wants "fish, options" "$(in_fish 'nailplate review --')" --as --hold --revised-since --next-commit
wants "fish, words of an option" "$(in_fish 'nailplate review --as js')" json json-lines

# Zsh completes at a terminal only: one is made for it, and a key pressed.
mkdir functions
nailplate completions zsh >functions/_nailplate
cat >ask.zsh <<'ASK'
zmodload zsh/zpty
zpty shell zsh -f -i
take() { local line; while zpty -r -t shell line; do print -rn -- $line; done }
say() { zpty -w -n shell "$1"; sleep ${2:-1} }
say $'fpath=('$PWD$'/functions $fpath); autoload -U compinit; compinit -u -D; PS1=; LISTMAX=0; zle_highlight=(none); stty columns 80\n' 3
take >/dev/null
say "$1"$'\t\t' 2
take
zpty -d shell
ASK
in_zsh() { TERM=dumb zsh -f ask.zsh "$1" | tr -d '\r\a' | sed 's/\x1b\[[0-9;?]*[A-Za-z]//g; s/^ *//' | tr -s ' ' '\n'; }
wants "zsh, commands" "$(in_zsh 'nailplate re')" review redline
wants "zsh, words of an option" "$(in_zsh 'nailplate review --as js')" json json-lines
wants "zsh, rules" "$(in_zsh 'nailplate rulebook speaker.under')" '.*speaker.undersized'

# Every page without a warning, and with what the help says.
pages=("" $(nailplate --help | sed -n '/^Commands:/,/^$/p' | awk '/^  / && $1 != "help" {print $1}'))
test "${#pages[@]}" -gt 6 || failed "the help lists commands"
for page in "${pages[@]}"; do
    # shellcheck disable=SC2086
    nailplate manual $page >page.1
    groff -man -Tutf8 -ww -rLL=78n -P-cbou page.1 >shown 2>warned || failed "troff refuses the page of '$page'"
    test ! -s warned || failed "the page of '$page': $(cat warned)"
    for part in NAME SYNOPSIS OPTIONS EXAMPLES "EXIT STATUS"; do
        grep -q "$part" shown || failed "the page of '$page' has no $part"
    done
    MANPAGER=cat man -l page.1 >/dev/null 2>warned || failed "man refuses the page of '$page'"
    test ! -s warned || failed "the page of '$page': $(cat warned)"
done
printf '  %s manual pages without a warning\n' "${#pages[@]}"
