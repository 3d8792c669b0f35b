# What a commit hook has to do, whichever way it is installed: sourced by framework.sh and plain.sh, which lay their
# hook into $scratch, a git repository with a first commit of the shipped plans.

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
scratch=$work/plans
said=$work/said

# Nobody's settings of git, and not the repository of a hook that this may run in.
unset GIT_DIR GIT_INDEX_FILE GIT_WORK_TREE
export GIT_CONFIG_NOSYSTEM=1 GIT_CONFIG_GLOBAL=$work/gitconfig NO_COLOR=1
git config --global user.name Wren
git config --global user.email wren@plover.invalid
git config --global init.defaultBranch main
git config --global advice.detachedHead false
git config --global --add safe.directory '*'

failed() {
    printf 'FAILED: %s\n' "$1"
    cat "$said"
    exit 1
}

# A commit that has to pass: passes WHAT [GIT ARGUMENTS]
passes() {
    local what=$1
    shift
    git commit -m "$what" "$@" >"$said" 2>&1 || failed "$what: the commit was held up"
    printf '  passes: %s\n' "$what"
}

# One that has to be held up, with a text in its output: held WHAT TEXT
held() {
    if git commit -m "$1" >"$said" 2>&1; then failed "$1: the commit was let through"; fi
    says "$1" "$2"
    printf '  held up: %s\n' "$1"
}

says() { grep -qF -- "$2" "$said" || failed "$1: it does not say: $2"; }
says_not() { if grep -qF -- "$2" "$said"; then failed "$1: it should not say: $2"; fi; }

start() {
    mkdir "$scratch"
    cd "$scratch"
    git init -q
    for name in kestrel-row heron-mill plover-lane tern-quay; do
        cp "$root/examples/$name.plan.yaml" .
    done
    cp "$root/examples/stock.yaml" .
    git add .
    git commit -q -m first
}

# The rest, once the hook is in place.
play() {
    git add .
    passes "the hook itself" --allow-empty

    printf '# a note\n' >>kestrel-row.plan.yaml
    git add .
    passes "a clean plan is changed"

    cp "$root/examples/kestrel-row-submitted.plan.yaml" lane.plan.yaml
    git add .
    held "a faulty plan is added" "speaker.undersized"
    says "its place" "lane.plan.yaml:60:54"
    says_not "only what changes is reviewed" "heron-mill.plan.yaml"

    git commit -q --no-verify -m "an old faulty plan"
    printf '# a note\n' >>heron-mill.plan.yaml
    git add .
    passes "an old faulty plan holds nothing else up"
    says_not "only what changes is reviewed" "lane.plan.yaml"

    printf 'not a plan\n' >notes.md
    git add .
    passes "what is no plan is changed"

    git rm -q lane.plan.yaml
    passes "a plan is taken away"

    # The cable that the speakers hang on grows thin: plans that were right are wrong.
    cp stock.yaml "$work/stock.yaml"
    sed -i 's/^  spk-12x4: .*/  spk-12x4: {for: speaker, cores: 4 x 24 AWG, rating: CL3, diameter: 0.41 in}/' stock.yaml
    if cmp -s stock.yaml "$work/stock.yaml"; then failed "the catalogue has no spk-12x4 any more"; fi
    git add .
    held "a catalogue is changed" "stock.yaml was revised"
    says "the plans that use it" "kestrel-row.plan.yaml:"
    git checkout -q HEAD stock.yaml

    # Settings under which a line that was good enough no longer is.
    cat >nailplate.yaml <<SETTINGS
nailplate: 1
rules:
  speaker.undersized: {limits: {share-of-load: {value: 0.01 %, authority: the firm}}}
SETTINGS
    git add .
    held "settings are added" "nailplate.yaml was revised"
    says "the plans that go by them" "speaker.undersized"
    says "the plans that go by them" "heron-mill.plan.yaml:"
    git rm -q --cached nailplate.yaml
    rm nailplate.yaml

    # Staged is right, the work tree is not; then the other way round.
    cp kestrel-row.plan.yaml "$work/right"
    printf '# another note\n' >>kestrel-row.plan.yaml
    git add .
    sed 's/^region: us/region: mars/' "$work/right" >kestrel-row.plan.yaml
    passes "what is not staged holds nothing up"
    git add .
    git show HEAD:kestrel-row.plan.yaml >kestrel-row.plan.yaml
    held "what is staged counts" "mars"
    git reset -q --hard
}
