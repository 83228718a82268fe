#!/bin/sh
# What a git host runs before a change to the house is merged:  sh checks/guard.sh origin/main
# It needs menugen, and a clone with its whole history. README.md, beside this file, has the text for a host.
#
# It fails where a publish would be stopped, where a file is not tidy, and where an allergen, a caution or the strength
# of a drink changed: then somebody reads what is printed, with the labels beside them, and merges by hand. Whatever it
# ends with, its last lines say what to run.
set -eu
# Nothing is fetched, and nothing that the clone's settings name for it is run.
export GIT_ALLOW_PROTOCOL=none GIT_NO_LAZY_FETCH=1 GIT_TERMINAL_PROMPT=0
typed=$0
cd "$(dirname "$0")/.."
against=${1:-origin/main}

# As a shell is to be given it.
quoted() {
  case $1 in
    *[!A-Za-z0-9_./-]* | '') printf "'%s'" "$(printf '%s' "$1" | sed "s/'/'\\\\''/g")" ;;
    *) printf '%s' "$1" ;;
  esac
}

here=$(quoted "$PWD")
again="  sh $(quoted "$typed") $(quoted "$against")"

# What is wrong, then what to run, a line each.
fail() {
  echo "guard: $1; run:" >&2
  shift
  for line in "$@"; do
    echo "  $line" >&2
  done
  echo "$again" >&2
  exit 2
}

command -v menugen >/dev/null ||
  fail "menugen is not on the path" "python3 -m pip install path/to/menugen     # from your copy"
why=$(menugen --version 2>&1) || {
  echo "$why" >&2
  fail "menugen does not start" "python3 -m pip install --force-reinstall path/to/menugen     # from your copy"
}
command -v git >/dev/null || fail "there is no git on this machine" "apt-get install git     # or what your machine has for it"
if ! git rev-parse --git-dir >/dev/null 2>&1; then
  menugen compare --quiet || true # says why git does not read the folder
  fail "there is nothing to compare with, and a clone of the house's repository has it" \
    "git clone ADDRESS-OF-THE-HOUSE house && cd house"
fi
if ! git rev-parse --verify --quiet "$against^{commit}" >/dev/null; then
  remote=${against%%/*}
  branch=${against#*/}
  if [ "$remote" != "$against" ] && git remote get-url "$remote" >/dev/null 2>&1; then
    fail "git knows no \"$against\" here" \
      "git -C $here fetch $(quoted "$remote") $(quoted "$branch:refs/remotes/$against")     # the branch that the change goes into"
  fi
  fail "git knows no \"$against\" here" "git -C $here branch --all     # names those it knows: one of them instead"
fi
if ! base=$(git merge-base "$against" HEAD); then
  if [ "$(git rev-parse --is-shallow-repository)" = true ]; then
    fail "this clone holds only the newest commits" \
      "git -C $here fetch --unshallow     # brings what $against is compared by"
  fi
  fail "$against and this branch have no commit in common, so there is nothing to compare with" \
    "git -C $here branch --all     # names the branches: the one that the change goes into instead"
fi

checked=0 tidied=0 compared=0
menugen check . || checked=$?
menugen tidy . --check || tidied=$?
if git rev-parse --verify --quiet "$base:./house.yaml" >/dev/null || ! git cat-file -e "$base^{tree}" 2>/dev/null; then
  menugen compare "$base" HEAD --markdown --fail-on allergens,strength,problems || compared=$?
else
  echo "The house is new: there is nothing to compare it with."
fi

if [ "$checked" -gt 1 ] || [ "$tidied" -gt 1 ] || [ "$compared" -gt 1 ]; then
  fail "menugen could not look at all of it: what it says above comes first"
fi
if [ "$checked" -ne 0 ] || [ "$tidied" -ne 0 ]; then
  echo "guard: mend the files named above, then run:" >&2
  if [ "$checked" -ne 0 ]; then
    echo "  menugen check $here" >&2
  fi
  if [ "$tidied" -ne 0 ]; then
    echo "  menugen tidy $here" >&2
  fi
  echo "  git -C $here commit -a" >&2
  echo "$again" >&2
fi
if [ "$compared" -ne 0 ]; then
  echo "guard: what changed for guests is named above: read it with the labels beside you; to see it again, run:" >&2
  echo "  menugen compare $base HEAD --house $here" >&2
  echo "guard: where it is meant, merge by hand: nothing is to be mended" >&2
fi
if [ "$checked" -ne 0 ] || [ "$tidied" -ne 0 ] || [ "$compared" -ne 0 ]; then
  exit 1
fi
