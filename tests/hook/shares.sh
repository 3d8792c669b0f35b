#!/usr/bin/env bash
# The README's ways to share the work out, as they stand there: shares.sh FOLDER-OF-THE-PROGRAM
# Wants GNU parallel and coreutils.
set -euo pipefail
PATH=$(cd "$1" && pwd):$PATH
source "$(dirname "$0")/scenes.sh"

start
for n in $(seq 40); do
    mkdir -p "house $n"
    cp "$root"/examples/*.plan.yaml "house $n/"
    sed -i 's/^catalogue: .*/catalogue: ..\/stock.yaml/' "house $n"/*.plan.yaml
done
git add .
export PARALLEL_HOME=$work/parallel
mkdir "$PARALLEL_HOME"

mapfile -t shares < <(sed -n '/<!-- shares -->/,/^```$/p' "$root/README.md" | sed '/^<!--/d; /^```/d; /^$/d')
test "${#shares[@]}" = 2 || failed "the README shows two ways"

nailplate review --as json-lines . >"$work/one" 2>"$said" && failed "the faulty plans were not found"
test "$(wc -l <"$work/one")" = "$(git ls-files '*.plan.yaml' | wc -l)" || failed "a plan is missing"

same() {
    cmp -s <(sort "$1") <(sort "$work/one") || failed "$2: the outputs joined are not that of one run"
    printf '  the same: %s\n' "$2"
}

# A job fails where it finds something; so does the whole.
for job in 1 2 3 4 5 6 7 8; do
    status=0
    bash -c "set -o pipefail; ${shares[0]//3/$job}" 2>"$said" || status=$?
    test $status = 1 || failed "job $job ended with $status"
done
cat share-*.json-lines >"$work/shares"
same "$work/shares" "eight jobs"

status=0
bash -c "${shares[1]}" 2>"$said" || status=$?
test $status != 0 || failed "parallel passes failures on"
same all.json-lines "parallel"
