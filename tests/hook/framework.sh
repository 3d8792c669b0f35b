#!/usr/bin/env bash
# The hook as the pre-commit framework runs it: built by cargo from the last commit of this repository.
# Wants python3 with venv, cargo, and the registries of both.
set -euo pipefail
source "$(dirname "$0")/scenes.sh"

python3 -m venv "$work/venv"
"$work/venv/bin/pip" install --quiet --disable-pip-version-check 'pre-commit==4.*'
PATH=$work/venv/bin:$PATH
export PRE_COMMIT_HOME=$work/cache
# The framework installs a release; how fast that is does not matter here, how long it takes to build does.
export CARGO_PROFILE_RELEASE_OPT_LEVEL=0 CARGO_PROFILE_RELEASE_LTO=off CARGO_PROFILE_RELEASE_CODEGEN_UNITS=16
export CARGO_TARGET_DIR=${CARGO_TARGET_DIR:-$root/target}/hook

start
cat >.pre-commit-config.yaml <<CONFIG
repos:
  - repo: $root
    rev: $(git -C "$root" rev-parse HEAD)
    hooks: [{id: nailplate}]
CONFIG
pre-commit install >"$said" 2>&1 || failed "pre-commit install"
pre-commit install-hooks >"$said" 2>&1 || failed "the hook could not be built"
play

# All files, and a range of commits, as on a server.
cp "$root/examples/kestrel-row-submitted.plan.yaml" lane.plan.yaml
git add .
git commit -q --no-verify -m "an old faulty plan"
printf '# a note\n' >>plover-lane.plan.yaml
git add .
passes "another plan"
pre-commit run --from-ref HEAD~1 --to-ref HEAD >"$said" 2>&1 || failed "a range without the faulty plan"
if pre-commit run --from-ref HEAD~2 --to-ref HEAD >"$said" 2>&1; then failed "a range with the faulty plan"; fi
says "a range with it" "lane.plan.yaml:60:54"
if pre-commit run --all-files >"$said" 2>&1; then failed "all files"; fi
says "all files" "lane.plan.yaml:60:54"
printf '  passes: ranges of commits, all files\n'

# The other hook takes the program from the PATH: here the one that the framework has built.
sed -i 's/id: nailplate}/id: nailplate-installed}/' .pre-commit-config.yaml
PATH=$(dirname "$(find "$PRE_COMMIT_HOME" -name nailplate -path '*/bin/*' | head -n 1)"):$PATH
if pre-commit run --all-files >"$said" 2>&1; then failed "the installed one"; fi
says "the installed one" "lane.plan.yaml:60:54"
printf '  passes: the installed program\n'
