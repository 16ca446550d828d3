#!/usr/bin/env bash
# Reviews a request against its base, run in a checkout of the base: review/review.markdown and review/review.html.
# Takes the commit of the request, which is merged with the base. HEAD_SHA: the commit that its author pushed.
# DIFFERS: what of the judging program the request changes.
# Says in GITHUB_OUTPUT under `told` what was written, `review` or `refusal`, and under `fell` how the review ended.
set -euo pipefail
request=$1
base=$(git rev-parse HEAD)
name="pull/$GITHUB_REF_NAME"
git branch --force "$GITHUB_BASE_REF" "$base"
git branch --force "$name" "$request"

options=(--link-to "$GITHUB_SERVER_URL/$GITHUB_REPOSITORY/blob/{revision}/{path}#L{line}")
note=
if [ -n "$DIFFERS" ]; then
  note="The request changes the program that judges it: ${DIFFERS// /, }. What stands here was made by the program of the base."
fi
if [[ " $DIFFERS " == *" build_tools "* ]]; then
  options+=(--without-running)
  note+=" What the request's own program gives is in the log of the job “Run what is proposed”."
fi

about() {
  printf 'Commit `%s`, as merged with `%s` at `%s`.\n\n' "$HEAD_SHA" "$GITHUB_BASE_REF" "$base"
  if [ -n "$note" ]; then printf '> **%s**\n\n' "$note"; fi
}

# What keeps the review from being made is shown as it is, as code, since others can have written it.
refused() {
  { about; printf '## Not reviewed\n\nThe review of this commit could not be made, so nothing is known of it:\n\n'
    tail -n 20 review/said | cut -c -500 | iconv -c -f UTF-8 -t UTF-8 | sed 's/^/    /'; } > review/review.markdown
  rm -f review/review.html
  cat review/review.markdown >> "$GITHUB_STEP_SUMMARY"
  echo "told=refusal" >> "$GITHUB_OUTPUT"
  exit 1
}

mkdir -p review
fell=0
for form in markdown html; do
  ended=0
  .venv/bin/python -m build_tools review "$GITHUB_BASE_REF" "$name" --format "$form" "${options[@]}" \
    > "review/review.$form" 2> review/said || ended=$?
  # 1 tells of what somebody has to look at; anything else, or nothing said, is no review.
  if [ "$ended" -gt 1 ] || [ ! -s "review/review.$form" ]; then refused; fi
  fell=$ended
done
{ about; cat review/review.markdown; } > review/whole
mv review/whole review/review.markdown
rm review/said
cat review/review.markdown >> "$GITHUB_STEP_SUMMARY"
{ echo "told=review"; echo "fell=$fell"; } >> "$GITHUB_OUTPUT"
