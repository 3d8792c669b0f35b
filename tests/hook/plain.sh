#!/usr/bin/env bash
# The README's hook for plain git, as it stands there: plain.sh FOLDER-OF-THE-PROGRAM
set -euo pipefail
PATH=$(cd "$1" && pwd):$PATH
source "$(dirname "$0")/scenes.sh"

start
hook=.git/hooks/pre-commit
sed -n '/<!-- git hook -->/,/^```$/p' "$root/README.md" | sed '/^<!--/d; /^```/d' >$hook
test "$(wc -l <$hook)" -le 3 || failed "the README's hook has grown"
chmod +x $hook
play

# What the work tree holds beyond the index is said.
printf '# staged\n' >>kestrel-row.plan.yaml
git add .
printf '# not staged\n' >>kestrel-row.plan.yaml
passes "it says what is not in the commit"
says "the file" "kestrel-row.plan.yaml: read as staged"
git reset -q --hard

# A commit of some files only, which git keeps in an index of its own.
cp "$root/examples/kestrel-row-submitted.plan.yaml" lane.plan.yaml
git add .
printf '# a note\n' >>heron-mill.plan.yaml
passes "a commit of one file among several" heron-mill.plan.yaml
held "the rest of them" "lane.plan.yaml"
git reset -q --hard

# A catalogue that is not staged would be missing from the commit.
printf 'stock: {}\n' >fresh.yaml
sed -i 's/^catalogue: .*/catalogue: [stock.yaml, fresh.yaml]/' kestrel-row.plan.yaml
git add kestrel-row.plan.yaml
held "a catalogue that is forgotten" "the next commit would not hold this file"
