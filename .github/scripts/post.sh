#!/usr/bin/env bash
# Posts review/review.markdown as the one comment of this workflow on a request, in place of the one before.
# Where there is no such file, the comment says that this commit was not reviewed, so that none stands there as if it
# were of this commit. PAGE: where the review is kept as a page, RUN: where the run is; both addresses.
set -euo pipefail
marker='<!-- The review of the guide: one comment, written anew for each push. -->'
place="repos/$GH_REPO/issues"

{
  printf '%s\n' "$marker"
  if [ -s review/review.markdown ]; then
    cat review/review.markdown
    if [ -e review/review.html ]; then printf '\n\n[The same with both diagrams, as a page](%s)\n' "$PAGE"; fi
  else
    printf 'Commit `%s`.\n\n## Not reviewed\n\n' "$HEAD_SHA"
    printf 'The review of this commit could not be made, so nothing is known of it: [what happened](%s)\n' "$RUN"
  fi
} > comment.markdown

own=".[] | select(.user.login == \"github-actions[bot]\" and (.body | startswith(\"$marker\"))) | .id"
known=$(gh api --paginate "$place/$NUMBER/comments?per_page=100" --jq "$own")
first=${known%%$'\n'*}
if [ -n "$first" ]; then
  gh api --silent --method PATCH "$place/comments/$first" --field body=@comment.markdown
else
  gh api --silent --method POST "$place/$NUMBER/comments" --field body=@comment.markdown
fi
