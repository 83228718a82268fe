#!/bin/sh
# What a git host runs before a change to the house is merged:  sh checks/guard.sh origin/main
# It needs menugen, and a clone with its whole history. README.md, beside this file, has the text for a host.
#
# It compares what you would merge into with what the merge would give, and looks at everything before it ends: with 1
# where an allergen, a caution or the strength of a drink changed, where the two do not merge, where a publish would be
# stopped or a file is not tidy; with 2 where it could not look. Its last lines say what to run.
set -u
typed=$0
against=${1:-origin/main}
[ $# -eq 0 ] || shift # what is left is for menugen compare: --was old-folder

# As a shell is to be given it.
quoted() {
  case $1 in
    *[!A-Za-z0-9_./-]* | '') printf "'%s'" "$(printf '%s' "$1" | sed "s/'/'\\\\''/g")" ;;
    *) printf '%s' "$1" ;;
  esac
}

# What is wrong, then what to run, a line each.
fail() {
  echo "guard: $1; run:" >&2
  echo "  $2" >&2
  echo "  sh $(quoted "$typed") $(quoted "$against")" >&2
  exit 2
}

command -v menugen >/dev/null ||
  fail "menugen is not on the path" "python3 -m pip install path/to/menugen     # from your copy"
why=$(menugen --version 2>&1) || {
  echo "$why" >&2
  fail "menugen does not start" "python3 -m pip install --force-reinstall path/to/menugen     # from your copy"
}

checks=$(dirname "$0")
case $checks in
  . | .. | */. | */..) house=$checks/.. ;;
  *) house=$(dirname "$checks") ;;
esac
ended=0
menugen compare --house "$house" --merged HEAD --fail-on allergens,strength,problems,tidy "$@" -- \
  "$against" || ended=$?
if [ "$ended" -ne 0 ]; then
  echo "guard: to look again, run:" >&2
  echo "  sh $(quoted "$typed") $(quoted "$against")" >&2
fi
exit "$ended"
