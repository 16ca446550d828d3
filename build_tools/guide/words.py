"""The reader's words for what the model names by id: answers, places, efforts, acts, signals, ends.

Each stands here once; pages, diagrams, checklists and the shell read it from here.
"""

from __future__ import annotations

from collections.abc import Mapping

from build_tools.model import Act, Effort, Signal, Where
from build_tools.proof.weighing import Sense

SCOPE = "Numbers and law in this guide are British. Elsewhere, local rules come first."
"""What the guide holds for; it stands on every page, checklist and finding."""
ANSWER_WORDS: Mapping[str, str] = {"yes": "Yes", "no": "No", "unsure": "Can't tell"}
"""The three answers; a measure's verdicts have sentences of their own."""
ALIKE_WORDS = "Answers that lead one way"
"""What begins the reason of a measure, which may be that of several verdicts."""
DONE_WORDS: Mapping[str, str] = {"done": "Done, go on"}
"""The exit of a remedy that comes first, before the walk goes on."""
PLACE_WORDS: Mapping[Where, str] = {
    Where.INSIDE: "Inside",
    Where.LOFT: "In the loft",
    Where.GROUND: "On the ground",
    Where.SCAFFOLD: "On a scaffold or tower",
    Where.LADDER: "On a ladder",
    Where.ROOF: "On the roof",
}
EFFORT_WORDS: Mapping[Effort, str] = {
    Effort.LOOK: "look only",
    Effort.TOUCH: "touch, move nothing",
    Effort.WET: "let water on",
    Effort.LIFT: "lift and put back",
    Effort.STRIP: "take off and make good",
}
ACT_WORDS: Mapping[Act, str] = {
    Act.HOSE_TEST: "Testing with water",
    Act.LIFT_GLASS: "Lifting glass",
    Act.HOT_WORK: "Hot work",
}
READING_RULES: Mapping[Where, str] = {
    Where.SCAFFOLD: "Read this only standing still on the boards, behind the guard rail. Never read and move.",
    Where.LADDER: (
        "Read this on the ground. Climb, look, come down. "
        "Answer when you are down, or call the answer to your second person."
    ),
    Where.ROOF: "Read this only at a secured place, sitting or standing still. Never read and move.",
}
"""How to use a phone where both hands are needed; a step in these places is held until it is kept."""
READING_DONE: Mapping[Where, str] = {
    Where.SCAFFOLD: "I am standing still behind the rail",
    Where.LADDER: "I am down again",
    Where.ROOF: "I am still and secured",
}
SIGNAL_WORDS: Mapping[Signal, str] = {signal: signal.value.upper() for signal in Signal}
ENDS_WORDS: Mapping[str, str] = {
    "came-down": "you came down or left the place",
    "resumed": "you took a break and came back to this walk",
    "weather-turned": "the weather turned",
    "test-failed": "a test went wrong",
    "time-limit": "its time ran out",
}
BEGINS_WORDS: Mapping[str | None, str] = {
    None: "When nothing is known yet",
    "sign": "By what you see",
    "part": "By the part that is in doubt",
    "decision": "By what has to be decided",
}
"""The walks in their groups, in the order of the list."""
LASTS_WORDS: Mapping[str, tuple[str, str]] = {
    "stopgap": ("A stopgap", "Stopgaps"),
    "lasting": ("Lasting", "Lasting remedies"),
    "mends-nothing": ("Mends nothing by itself", "To find out, to hand over or to wait"),
}
"""How long a remedy lasts, for its page and as a heading of the list, in the order of the list."""
GLASS_WORDS: Mapping[str, str] = {
    "stays-in": "The glass stays in",
    "comes-out": "The glass comes out",
    "not-touched": "The glass is not touched",
}
SEEN_WORDS: Mapping[str, str] = {
    "seen": "at this address",
    "reported": "as another page reports it",
    "elsewhere": "as others print it",
    "memory": "no public source seen",
}
SENSE_WORDS: Mapping[Sense, str] = {
    Sense.BELOW_FIRST: "what is looked at from below comes before any climb",
    Sense.LIFT_LAST: "nothing cheap comes after lifting",
}
"""What keeps a cheaper order of checks from being advised."""

WHICH_ROOF = "Which roof is it?"
"""Asked at a gate where the way has not settled it."""
ROOF_NOT_KNOWN = "Where nobody can tell, all conditions count"
