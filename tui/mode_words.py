"""The two ways of working in words, in the order of ``STYLES``: asked at the start, and whenever it is changed."""

MODE_ASKED = "How do you work?"
MODE_WORDS = (
    "step by step: read it, do it, say so (usual)",
    "several steps in one go, then each is confirmed (for a technician)",
)
