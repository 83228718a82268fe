#!/bin/sh
# What a git host runs before a change to the house is merged:  sh checks/guard.sh origin/main
# It needs menugen, and a clone with its whole history. README.md, beside this file, has the text for a host.
#
# It fails where a publish would be stopped, where a file is not tidy, and where an allergen, a caution or the strength
# of a drink changed: then somebody reads what is printed, with the labels beside them, and merges by hand.
set -eu
cd "$(dirname "$0")/.."
against=${1:-origin/main}

fail() {
  echo "guard: $1" >&2
  exit 2
}

command -v menugen >/dev/null || fail "menugen is not on the path"
command -v git >/dev/null || fail "there is no git on this machine"
if ! git rev-parse --git-dir >/dev/null 2>&1; then
  menugen compare --quiet || true # says why git does not read the folder
  exit 2
fi
git rev-parse --verify --quiet "$against^{commit}" >/dev/null ||
  fail "git knows no \"$against\" here: fetch the branch that the change is to be merged into, or name another"
if ! base=$(git merge-base "$against" HEAD); then
  if [ "$(git rev-parse --is-shallow-repository)" = true ]; then
    fail "this clone holds only the newest commits: \"git fetch --unshallow\" brings what $against is compared by"
  fi
  fail "$against and this branch have no commit in common: there is nothing to compare with"
fi

menugen check .
menugen tidy . --check
if git cat-file -e "$base:./house.yaml" 2>/dev/null; then
  menugen compare "$base" HEAD --markdown --fail-on allergens,strength,problems
else
  echo "The house is new: there is nothing to compare it with."
fi
