"""All that changed in cautions and gates: losses first, then other words, then gains.

What one version lost the other gained, so a gain is a loss of the two versions the other way round.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from build_tools.review.differences.guard_tables import other_words, table_losses
from build_tools.review.differences.guard_ways import Guards, guards_of, way_losses
from build_tools.review.record.changes import Change, Row
from build_tools.review.versions.matching import Match

GAINS: Mapping[Change, Change] = {"removed": "added", "weakened": "strengthened", "moved-later": "moved-earlier"}
"""What each loss is when it is read the other way round."""


def safety(match: Match) -> tuple[Row, ...]:
    """Find all that changed in cautions and gates, the grave first."""
    before, after = guards_of(match.before), guards_of(match.after)
    lost = _losses(match, before, after)
    gained = (_turned(row) for row in _losses(match.mirrored(), after, before))
    return (*lost, *other_words(match), *gained)


def _losses(match: Match, before: Guards, after: Guards) -> Iterator[Row]:
    yield from table_losses(match)
    yield from way_losses(match, before, after)


def _turned(row: Row) -> Row:
    sides = {"before": row.after, "after": row.before, "spot_before": row.spot_after, "spot_after": row.spot_before}
    return row.model_copy(update={**sides, "change": GAINS[row.change]})
