#!/usr/bin/env bash
# Puts what a request proposes to be read into this checkout of its base, and nothing of it that runs.
# So the base's own program judges it, with the request's tables. Takes the commit of the request.
# Says in GITHUB_OUTPUT under `differs` what of the judging program the request changes.
set -euo pipefail
request=$1
content=(trees guide)
judges=(build_tools .github Makefile pyproject.toml requirements.lock requirements-test.lock)

# Files come as git holds them: an attribute of the request could put other words into one.
mkdir -p "$(git rev-parse --git-common-dir)/info"
echo '* -text !eol !ident !filter !working-tree-encoding' > "$(git rev-parse --git-common-dir)/info/attributes"

object() { git rev-parse --quiet --verify "$1:$2" || true; }
attributes() { git ls-tree -r "$1" | grep -E $'[\t/]\\.gitattributes"?$' || true; }

differs=()
for each in "${judges[@]}"; do
  [ "$(object HEAD "$each")" = "$(object "$request" "$each")" ] || differs+=("$each")
done
[ "$(attributes HEAD)" = "$(attributes "$request")" ] || differs+=(.gitattributes)
echo "differs=${differs[*]}" >> "$GITHUB_OUTPUT"

git rm -r --quiet --ignore-unmatch -- "${content[@]}"
for each in "${content[@]}"; do
  if [ -n "$(object "$request" "$each")" ]; then git checkout --quiet "$request" -- "$each"; fi
done
