"""Builds the steps of a procedure from their tables."""

from engine.finding import Verdict
from engine.procedure import amounts
from engine.procedure.build_check import build_check
from engine.procedure.build_entry import build_entry
from engine.procedure.faults import Faults
from engine.procedure.fields import Fields
from engine.procedure.limit import Expression
from engine.procedure.model import (
    ConnectorView,
    DueItem,
    Hold,
    Known,
    LeftItem,
    Position,
    Signal,
    Step,
    StepLimit,
    Warn,
    WirePart,
)
from engine.procedure.scope import Scope, condition
from engine.source import Authority, Seen, Source


def build_step(given: Fields, section_needs: tuple[str, ...], scope: Scope, faults: Faults) -> Step:
    """Return one step.

    Args:
        given: Its table.
        section_needs: The gates of its section, which are gates of the step too.
        scope: The entries that it may name.
        faults: Takes what is wrong.
    """
    return Step(
        id=given.text("id"),
        section=given.text("section"),
        title=given.text("title"),
        action=given.text("action").strip(),
        why=given.text("why").strip(),
        hold=Hold(given.text("hold")),
        warnings=tuple(_warning(each) for each in given.tables("warning")),
        asks=given.texts("asks"),
        readings=tuple(build_entry(each, scope, faults, default=Known.MEASURED) for each in given.tables("reading")),
        parts=tuple(WirePart(p.text("id"), p.text("name"), p.text("facing")) for p in given.tables("part")),
        checks=tuple(build_check(each, scope, faults) for each in given.tables("check")),
        limits=tuple(limit for each in given.tables("limit") if (limit := _limit(each, scope, faults))),
        needs=tuple(dict.fromkeys((*section_needs, *given.texts("needs")))),
        voids=given.texts("voids"),
        ends=given.texts("ends"),
        lasts_away_s=seconds(given, "lasts_away"),
        lasts_s=seconds(given, "lasts"),
        opens=tuple(LeftItem(each.text("id"), each.text("says")) for each in given.tables("opens")),
        closes=given.texts("closes"),
        due=tuple(DueItem(d.text("id"), d.text("says"), seconds(d, "after") or 0.0) for d in given.tables("due")),
        irreversible=given.text("irreversible"),
        view=_view(given.table("view")),
        stop_if=given.texts("stop_if"),
        leaves={topic: str(words) for topic, words in given.mapping("leaves").items()},
        when=condition(given, "when", scope, faults),
    )


def seconds(given: Fields, name: str) -> float | None:
    """Return a span of time [s], or None if there is none."""
    read = amounts.seconds(given.text(name)) if given.has(name) else None
    return read if isinstance(read, float) else None


def _warning(given: Fields) -> Warn:
    word = Signal(given.text("word", Signal.NOTICE))
    return Warn(word, given.text("hazard"), given.text("avoid"), given.text("consequence"))


def _limit(given: Fields, scope: Scope, faults: Faults) -> StepLimit | None:
    expression: Expression | None = condition(given, "is", scope, faults)
    source = given.table("source")
    if expression is None or source is None:
        return None
    return StepLimit(
        expression, Verdict(given.text("otherwise", Verdict.FAIL)), given.text("says"), build_source(source)
    )


def build_source(given: Fields) -> Source:
    """Return a source. What is missing has been noted as a fault before, so no default reaches a session."""
    authority = Authority(given.text("authority", Authority.PROJECT))
    return Source(authority, given.text("document"), given.text("place"), Seen(given.text("seen", Seen.MEMORY)))


def _view(given: Fields | None) -> ConnectorView | None:
    if given is None:
        return None
    positions = tuple(Position(p.text("number"), p.text("where"), p.text("carries")) for p in given.tables("positions"))
    return ConnectorView(given.text("title"), given.text("seen_from"), positions)
