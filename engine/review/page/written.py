"""A page put where it belongs: whole or not at all, and over nothing but an earlier page."""

from pathlib import Path

from engine.review.audit import Audit, audit_file, audit_scan
from engine.review.page.photos import photos_of
from engine.review.page.render import page
from engine.review.put import demand_ours, put
from engine.review.spared import spared
from engine.session.scan import not_a_log

OURS = b'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n<meta name="generator" content="tugtest">\n'
"""What every page begins with."""


def write_page(log: Path, target: Path) -> Audit:
    """Write the page of one log, and return the audit that it shows.

    Raises:
        NotPut: if anything but a page of this program is at ``target``.
        OSError: if the page cannot be written.
    """
    demand_ours(target, OURS)
    audit = audit_file(log)
    told, why = spared(lambda: page(audit, photos_of(log, audit.state)))
    told = told or page(audit_scan(not_a_log(f"its page cannot be made: {why}"), log.name))
    put(target, [told], OURS)
    return audit
