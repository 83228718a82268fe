#!/bin/sh
# What a git host runs before a change to the house is merged. On any host the job is the same three steps:
#
#   1. fetch the house with its whole history (a shallow clone has nothing to compare with)
#   2. install menugen
#   3. sh checks/guard.sh origin/main
#
# It fails where a publish would be stopped, where a file is not tidy, and where an allergen or the strength of a
# drink changed: then somebody reads what is printed, with the labels beside them, and merges by hand.
set -eu
base=$(git merge-base "${1:-origin/main}" HEAD)
menugen check .
menugen tidy . --check
menugen compare "$base" HEAD --markdown --fail-on allergens,strength,problems
